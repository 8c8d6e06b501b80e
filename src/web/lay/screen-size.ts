/**
 * How many px this screen has to the millimetre. A browser only promises it; where somebody has laid a known length against the screen,
 * that is kept on this device.
 */
import { note, noted } from '../device-notes.ts';
import { CSS_PX_PER_MM } from './camera.ts';

const NAME = 'screen';

/** Screens from a large projection to a small telephone: beyond it nobody has measured well. px to the millimetre. */
const LEAST = 0.2;
const MOST = 30;

/** What was measured; the browser's promise where nobody has, or nothing can be kept. */
export const keptScreen = (): number => screenOf(noted(NAME));

/** Has anybody measured this screen? */
export const isMeasured = (): boolean => noted(NAME) !== null;

/** Remember what was measured, even where it is what the browser promised. */
export const keepScreen = (pxPerMm: number): void => note(NAME, String(pxPerMm));

/** What a kept text says; the browser's promise where it says nothing that could be. */
export function screenOf(text: string | null): number {
  const value = text === null ? Number.NaN : Number(text);
  return value >= LEAST && value <= MOST ? value : CSS_PX_PER_MM;
}

/** What can be laid against the screen. A bank card is of the format ID-1: ISO/IEC 7810, 85.60 x 53.98 mm. */
export const MEASURES = {
  card: { width: 85.6, height: 53.98 },
  ruler: { width: 100, height: 20 },
} as const;

/** One press of plus or minus: px of the measure's width; the larger step moves coarsely. */
export function rescaled(pxPerMm: number, width: number, byPx: number): number {
  const next = (Math.round(pxPerMm * width) + byPx) / width;
  return Math.min(MOST, Math.max(LEAST, next));
}
