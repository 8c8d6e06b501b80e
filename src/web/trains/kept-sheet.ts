/** A running sheet as this device keeps it from visit to visit. What cannot be read, or cannot be kept, is as if there were none. */
import type { SheetMove, Standing, Thrown } from '../../routes/index.ts';
import { note, noted } from '../device-notes.ts';
import { sheetNote } from './sheet-note.ts';

export interface KeptSheet {
  /** Where it begins: trains, and levers and points that no lever works. */
  readonly standing: Standing;
  readonly thrown: Thrown;
  readonly moves: readonly SheetMove[];
  /** Moves that are done. */
  readonly at: number;
}

/** Keeps it; null takes what was kept away. */
export function keepSheet(key: string, sheet: KeptSheet | null): void {
  note(sheetNote(key), sheet === null ? null : JSON.stringify(sheet));
}

export function keptSheet(key: string): KeptSheet | null {
  try {
    return readSheet(JSON.parse(noted(sheetNote(key)) ?? 'null'));
  } catch {
    return null;
  }
}

/** A sheet from data that may be anything; null where it is none. */
export function readSheet(data: unknown): KeptSheet | null {
  if (!isRecord(data)) return null;
  const { standing, thrown, moves, at } = data;
  const isKept =
    Array.isArray(standing) &&
    standing.every(isTrain) &&
    isRecord(thrown) &&
    Object.values(thrown).every((lie) => lie === 'normal' || lie === 'reverse' || lie === 'centre') &&
    Array.isArray(moves) &&
    moves.every(isMove) &&
    Number.isInteger(at);
  if (!isKept) return null;
  return {
    standing: standing as Standing,
    thrown: thrown as Thrown,
    moves: moves as readonly SheetMove[],
    at: Math.max(0, Number(at)),
  };
}

function isRecord(data: unknown): data is Readonly<Record<string, unknown>> {
  return typeof data === 'object' && data !== null && !Array.isArray(data);
}

function isTrain(data: unknown): boolean {
  if (!isRecord(data)) return false;
  const { id, name, length, stands, heads } = data;
  const isTextOrNull = (value: unknown): boolean => value === null || typeof value === 'string';
  return (
    typeof id === 'string' &&
    isTextOrNull(name) &&
    (length === null || (typeof length === 'number' && length > 0)) &&
    typeof stands === 'string' &&
    isTextOrNull(heads)
  );
}

function isMove(data: unknown): boolean {
  if (!isRecord(data)) return false;
  const { train, to, points } = data;
  return (
    typeof train === 'string' &&
    typeof to === 'string' &&
    isRecord(points) &&
    Object.values(points).every((lie) => lie === 'normal' || lie === 'reverse')
  );
}
