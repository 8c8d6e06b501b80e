/** Wires that several drives share on their way back to the supply. */
import type { PanelFile } from '../panel/index.ts';
import { DRIVES_A_RETURN_PIN } from './tolerances.ts';
import type { WiringProblem } from './types.ts';

export interface NamedReturn {
  readonly id: string;
  readonly supply: string | null;
  /** Null: all levers of its supply. */
  readonly levers: readonly string[] | null;
  readonly pins: number | null;
}

/** The returns of the file; levers that they name and that are not there are reported. */
export function returnsOf(
  panel: PanelFile,
  problems: WiringProblem[],
  levers: readonly string[],
): readonly NamedReturn[] {
  return (panel.returns ?? []).map(({ id, supply, levers: named, pins }) => {
    for (const lever of named ?? [])
      if (!levers.includes(lever)) problems.push({ code: 'return-unknown', return: id, lever });
    return { id, supply: supply ?? null, levers: named ?? null, pins: pins ?? null };
  });
}

/** Pins of a return of so many drives: a way for every few, and never one alone where more than two hang on it. */
export function defaultReturn(drives: number): number {
  return Math.max(drives > 2 ? 2 : 1, Math.ceil(drives / DRIVES_A_RETURN_PIN));
}
