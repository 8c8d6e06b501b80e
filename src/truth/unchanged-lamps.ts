/** Circuits of which an edit left every claim as it was: of the lamps that they light, and of those that claim what their drives move. */
import type { LampUse } from '../lamps/index.ts';
import { isAlike } from '../panel/index.ts';
import { carriersOf, drivesByPoint } from '../wiring/index.ts';
import { pointsOf } from './points-of.ts';
import type { TruthInput } from './prove-healthy.ts';

/** Of circuits that are wired as they were those whose truth is what it was, with any fault of their own. */
export function unchangedTruths(
  before: TruthInput,
  now: TruthInput,
  circuits: ReadonlySet<string>,
): ReadonlySet<string> {
  const [was, is] = [claimsOf(before), claimsOf(now)];
  return new Set([...circuits].filter((id) => isAlike(was(id), is(id))));
}

/** By circuit, all that lamps say there and what it hangs on elsewhere. */
function claimsOf({ wiring, lamps }: TruthInput): (circuit: string) => unknown {
  const driveOf = drivesByPoint(wiring);
  const carriers = carriersOf(wiring);
  const [lampsOf, claiming, moved] = [
    new Map<string, LampUse[]>(),
    new Map<string, LampUse[]>(),
    new Map<string, string[]>(),
  ];
  for (const lamp of lamps) {
    if (lamp.circuit === null || lamp.claim.length === 0) continue;
    push(lampsOf, lamp.circuit, lamp);
    for (const point of pointsOf(lamp)) push(claiming, point, lamp);
  }
  for (const { circuit, points } of wiring.drives)
    if (circuit !== null) for (const point of points) push(moved, circuit, point);
  for (const { circuit, point } of wiring.relays) push(moved, circuit, point);
  const followsOf = new Map(wiring.circuits.map(({ id, follows }) => [id, follows]));
  return (circuit) => {
    const own = lampsOf.get(circuit) ?? [];
    const followed = (followsOf.get(circuit) ?? []).flatMap(
      (id) => carriers.get(id)?.points.map(({ point }) => point) ?? [],
    );
    const named = [...(moved.get(circuit) ?? []), ...followed];
    const reached = new Set([...named, ...named.flatMap((point) => driveOf.get(point)?.points ?? [])]);
    const other = [...reached].flatMap((point) => claiming.get(point) ?? []);
    const all = [...new Set([...own, ...other])];
    return all.map((lamp) => {
      const ways = Object.keys(lamp.hang?.cube ?? {}).map((id) => carriers.get(id));
      const points = [...pointsOf(lamp), ...ways.flatMap((carrier) => carrier?.points[0]?.point ?? [])];
      return [lamp, ways, points.map((point) => driveOf.get(point))];
    });
  };
}

function push<T>(lists: Map<string, T[]>, key: string, item: T): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [item]);
  else list.push(item);
}
