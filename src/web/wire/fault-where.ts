/** Where a single fault is, for who looks for it: from where to where its wire runs, or which part it is and where that stands. */
import type { Face } from '../../face/index.ts';
import type { PanelFile } from '../../panel/index.ts';
import type { Spot } from '../../units/index.ts';
import { stripName } from '../lay/thing-names.ts';
import { nearestOn } from '../run/geometry.ts';
import { wireWords } from '../words/wire.ts';
import type { WireCircuit, WireFault, WireShown } from '../worker/wire-types.ts';

/** More places than these of one fault say no more. */
const MOST = 2;

export interface Places {
  readonly panel: PanelFile;
  readonly face: Pick<Face, 'lamps'> | null;
  readonly points: readonly { readonly id: string; readonly at: Spot }[];
  readonly circuits: readonly Pick<WireCircuit, 'id' | 'kind' | 'name'>[];
}

type Known = Pick<WireShown, 'wires' | 'connectors' | 'model'>;

/** What is known of a part or wire by its id, as words; undefined where no more is known than its id. */
export type KnownPlaces = (id: string) => string | undefined;

/** What is known of the parts and wires of a circuit. */
export function placesIn(shown: Known, { panel, face, points, circuits }: Places): KnownPlaces {
  const strip = (at: Spot): string => {
    let best: { readonly id: string; readonly gap: number } | null = null;
    for (const { id, path } of panel.strips) {
      const { gap } = nearestOn(at, path);
      if (best === null || gap < best.gap) best = { id, gap };
    }
    return best === null ? '' : stripName(panel, best.id);
  };
  const known = new Map<string, string>();
  for (const { id, name, kind } of circuits) {
    if (kind !== 'lever' || name === null) continue;
    known.set(id, wireWords.atLever(id, name));
  }
  for (const { kind, id, note } of shown.model.symbols) {
    // A contact is a pole of its lever's switch: "L4.1" of L4.
    const lever = id.split('.')[0] ?? id;
    if (kind === 'contact') known.set(id, known.get(lever) ?? wireWords.atLever(lever, ''));
    else if (note !== '') known.set(id, kind === 'motor' || kind === 'coil' ? wireWords.atPoints(note) : note);
  }
  // Which strip a spot is on takes a look at all of them: only of what is asked for.
  const spots = new Map([...points, ...(face?.lamps ?? [])].map(({ id, at }) => [id, at]));
  for (const { id, name, pins } of shown.connectors) {
    known.set(id, name);
    for (const pin of pins) known.set(pin.id, wireWords.pinTo(pin.id, pin.to));
  }
  for (const { id, from, to, colour } of shown.wires) known.set(id, wireWords.wireRun(from, to, colour));
  return (id) => {
    const spot = spots.get(id);
    if (spot === undefined) return known.get(id);
    spots.delete(id);
    known.set(id, wireWords.onStrip(strip(spot)));
    return known.get(id);
  };
}

/** Where a fault is, in one line; the empty text where its own words say all that is known. */
export function faultWhere({ at }: Pick<WireFault, 'at'>, known: KnownPlaces): string {
  // Of a whole connector its pins say no more.
  const whole = at.filter((id) => !at.some((other) => id.startsWith(`${other}.`)));
  const said = whole.flatMap((id) => known(id) ?? []).filter((text) => text !== '');
  return [...new Set(said)].slice(0, MOST).join('; ');
}
