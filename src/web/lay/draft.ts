/**
 * The face while a hand moves something on it: drawn from the last reading, with what has changed since laid over it at once.
 *
 * Idea: a panel after an edit shares every record that the edit did not touch, so what differs is found by identity.
 */
import { type DrawnStrip, drawStrip, type Face, type Hole } from '../../face/index.ts';
import type { PanelFile } from '../../panel/index.ts';
import type { Spot } from '../../units/index.ts';

/** The face of `now`, as far as it can be told from that of `base`: tape, and where lamps and levers stand. */
export function draftFace(face: Face, base: PanelFile, now: PanelFile): Face {
  if (base === now) return face;
  const strips = base.strips === now.strips ? face.strips : draftStrips(face, base, now);
  const lamps = movedIn(base.lamps ?? [], now.lamps ?? []);
  const levers = movedIn(base.levers ?? [], now.levers ?? []);
  if (strips === face.strips && lamps.size + levers.size === 0) return face;
  const moved = new Map([...lamps, ...levers]);
  const there = <T extends { readonly id: string; readonly at: Spot }>(list: readonly T[]): readonly T[] =>
    moved.size === 0
      ? list
      : list.map((each) => {
          const at = moved.get(each.id);
          return at === undefined ? each : { ...each, at };
        });
  return {
    ...face,
    strips,
    lamps: there(face.lamps),
    levers: there(face.levers),
    holes: there<Hole>(face.holes),
  };
}

/** Strips of `now` in the order of drawing: those that are new on top, those that are gone left out. */
function draftStrips(face: Face, base: PanelFile, now: PanelFile): readonly DrawnStrip[] {
  const before = new Map(base.strips.map((strip) => [strip.id, strip]));
  const after = new Map(now.strips.map((strip) => [strip.id, strip]));
  const kept = face.strips.flatMap((drawn): DrawnStrip[] => {
    const record = after.get(drawn.id);
    if (record === undefined) return [];
    return [record === before.get(drawn.id) ? drawn : drawStrip(record)];
  });
  const known = new Set(face.strips.map(({ id }) => id));
  return [...kept, ...now.strips.filter(({ id }) => !known.has(id)).map(drawStrip)];
}

/** Where records of a list stand that stood elsewhere. */
function movedIn(
  before: readonly { readonly id: string; readonly at?: Spot | undefined }[],
  after: readonly { readonly id: string; readonly at?: Spot | undefined }[],
): ReadonlyMap<string, Spot> {
  const moved = new Map<string, Spot>();
  if (before === after) return moved;
  const was = new Map(before.map((record) => [record.id, record]));
  for (const record of after) {
    const { at, id } = record;
    if (at !== undefined && was.get(id) !== record) moved.set(id, at);
  }
  return moved;
}
