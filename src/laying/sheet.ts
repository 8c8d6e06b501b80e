/** Edits of the panel itself and of its sheet, as typed. Null where it says so already. */
import {
  applyTransaction,
  editOf,
  type FaceRecord,
  FORMAT,
  isAlike,
  type PanelFile,
  type Transaction,
  VERSION,
} from '../panel/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { putPlate } from './things.ts';

/** Screws stand so far in from both edges of a sheet, in holes for M3: common practice, no source. */
const FIXING = { from: 9, drill: 3.2 } as const;
/** A title stands so far above the lower edge: mm. */
const TITLE_ABOVE: Millimetre = 24;

/** The panel's name; undefined takes it out. */
export function setPanelName(panel: PanelFile, name: string | undefined): Transaction | null {
  return panel.name === name ? null : editOf(panel).set('name', name).done('panel.name');
}

/** Figures of the sheet; undefined takes one out, and a sheet of which nothing is said leaves the file. */
export function setFace(
  panel: PanelFile,
  values: {
    readonly [K in 'width' | 'height' | 'thickness' | 'material' | 'colour' | 'view' | 'fixings']?:
      | FaceRecord[K]
      | undefined;
  },
): Transaction | null {
  const now = panel.face ?? {};
  if (Object.entries(values).every(([key, value]) => isAlike(Reflect.get(now, key), value))) return null;
  const kept = Object.entries({ ...now, ...values }).filter(([, value]) => value !== undefined);
  const face = kept.length === 0 ? undefined : (Object.fromEntries(kept) as FaceRecord);
  return editOf(panel).set('face', face).done('face.set');
}

/** A screw hole in each corner of a sheet of this size, beside those that are there; null where all four are. */
export function putCornerFixings(panel: PanelFile, width: Millimetre, height: Millimetre): Transaction | null {
  const { from, drill } = FIXING;
  const there = panel.face?.fixings ?? [];
  const wanted: readonly [number, number][] = [
    [from, from],
    [width - from, from],
    [from, height - from],
    [width - from, height - from],
  ];
  const missing = wanted.filter(([x, y]) => !there.some(({ at }) => Math.hypot(at[0] - x, at[1] - y) < from));
  if (missing.length === 0) return null;
  return setFace(panel, { fixings: [...there, ...missing.map((at) => ({ at, drill }))] });
}

/** A plate with the panel's name, in the middle of the sheet's lower edge. */
export function putTitle(panel: PanelFile, width: Millimetre, height: Millimetre): Transaction | null {
  const at: Spot = [width / 2, Math.max(0, height - TITLE_ABOVE)];
  const name = panel.name ?? '';
  return name === '' ? null : putPlate(panel, at, name.toUpperCase());
}

/** The plate that says the panel's name, by its index; null where none does. */
export function titleOf(panel: PanelFile): number | null {
  const name = (panel.name ?? '').toLowerCase();
  const at = (panel.plates ?? []).findIndex(({ text }) => name !== '' && text.toLowerCase() === name);
  return at < 0 ? null : at;
}

/** A sheet for a first panel, about as large as a hand's span across: mm. */
const FIRST_SHEET = { width: 300, height: 150 } as const;

/** A bare sheet of 300 by 150 mm with a screw hole in each corner. */
export function bareSheet(): PanelFile {
  const panel: PanelFile = { format: FORMAT, version: VERSION, strips: [], face: { ...FIRST_SHEET } };
  const screws = putCornerFixings(panel, FIRST_SHEET.width, FIRST_SHEET.height);
  return screws === null ? panel : applyTransaction(panel, screws);
}
