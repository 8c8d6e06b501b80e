/** Boxes to press over the face, each as large as a finger needs where nothing else stands so near. */
import type { Spot } from '../../units/index.ts';

/** A box by its middle, px. */
export interface PressBox {
  readonly at: Spot;
  readonly width: number;
  readonly height: number;
}

/** As large as this where there is room, and never less than the other: px. WCAG 2.2, 2.5.8 (AA) asks for 24. */
export const PRESS = { wanted: 44, least: 24 } as const;

/** Boxes of at least the wanted size, drawn in where they would lie over another's middle. */
export function pressBoxes(wanted: readonly PressBox[]): readonly PressBox[] {
  const grown = wanted.map(({ at, width, height }) => ({
    at,
    width: Math.max(PRESS.wanted, width),
    height: Math.max(PRESS.wanted, height),
  }));
  return grown.map((box, i) => {
    let { width, height } = box;
    for (const [j, other] of grown.entries()) {
      if (j === i) continue;
      const [dx, dy] = [Math.abs(other.at[0] - box.at[0]), Math.abs(other.at[1] - box.at[1])];
      if (dx >= (width + other.width) / 2 || dy >= (height + other.height) / 2) continue;
      // They give up room in the direction in which they are farther apart.
      if (dy / box.height >= dx / box.width) height = Math.min(height, Math.max(PRESS.least, dy));
      else width = Math.min(width, Math.max(PRESS.least, dx));
    }
    return { at: box.at, width, height };
  });
}

/** Where a box stands, as an element is told: as much of it as lies on the sheet, both in px. */
export function placed(
  { at, width, height }: PressBox,
  sheet: { readonly width: number; readonly height: number },
): { readonly left: number; readonly top: number; readonly width: number; readonly height: number } {
  const [left, top] = [Math.max(0, at[0] - width / 2), Math.max(0, at[1] - height / 2)];
  return {
    left,
    top,
    width: Math.min(sheet.width, at[0] + width / 2) - left,
    height: Math.min(sheet.height, at[1] + height / 2) - top,
  };
}
