/**
 * Single faults by brute force: the whole panel in every setting of every lever, with every history of every point, judged lamp by lamp
 * straight from the rules. Slow; for panels of a few points.
 */
import type { LampUse } from '../../src/lamps/index.ts';
import {
  type Fault,
  operate,
  type Position,
  type Reading,
  type WiredDrive,
  type Wiring,
} from '../../src/wiring/index.ts';

type Lie = 'normal' | 'reverse';
type Lies = Record<string, Lie>;

const turned = (lie: Lie): Lie => (lie === 'normal' ? 'reverse' : 'normal');

function product<T>(lists: readonly (readonly T[])[]): T[][] {
  let made: T[][] = [[]];
  for (const list of lists) made = made.flatMap((one) => list.map((each) => [...one, each]));
  return made;
}

/** How each point's blades lie: where its drive is taken, or as they were. `fault` null: healthy. */
function bladesOf(wiring: Wiring, reading: Reading, fault: Fault | null, history: Lies): Lies {
  const lies: Lies = { ...history };
  const [verb, name = ''] =
    fault === null ? ['', ''] : [fault.code.split(':')[0] ?? '', fault.code.split(':')[1] ?? ''];
  for (const drive of wiring.drives) {
    const driveFault = drive.points[0] === name.split('=')[0];
    for (const { point, volts } of reading.drives.filter((each) => each.drive === drive.id)) {
      if (driveFault && verb === 'stuck') {
        const same = senseOf(drive, point) === senseOf(drive, drive.points[0] ?? '');
        const stuck: Lie = name.endsWith('normal') ? 'normal' : 'reverse';
        lies[point] = same ? stuck : turned(stuck);
        continue;
      }
      if (driveFault && (verb === 'open' || verb === 'short')) continue;
      if (verb === 'linkage' && name === point) continue;
      // Half the least volts of its range move it for sure.
      if (volts === 0 || Math.abs(volts) < (drive.part.volts?.low ?? 0) / 2) continue;
      const goes: Lie = volts > 0 ? 'normal' : 'reverse';
      lies[point] = driveFault && verb === 'crossed' ? turned(goes) : goes;
    }
  }
  return lies;
}

function senseOf(drive: WiredDrive, point: string): Lie {
  return drive.asks.find((each) => each.point === point)?.goes ?? 'normal';
}

function shows(lamp: LampUse, reading: Reading, fault: Fault | null): 'lit' | 'dark' | 'doubtful' {
  const at = reading.lamps.find(({ id }) => id === lamp.id);
  if (at === undefined || fault?.code === `short:${lamp.id}` || at.amps > 2 * lamp.part.max) return 'dark';
  if (at.low >= lamp.part.seen) return 'lit';
  return at.high <= lamp.part.seen / 20 ? 'dark' : 'doubtful';
}

type Setting = Record<string, Position>;

/** How a circuit's lever may lie, and one on another panel with it: of two that spring back one is thrown, the other in its middle. */
function positionsOf(wiring: Wiring, { id, positions }: Wiring['circuits'][number]): readonly Setting[] {
  const own = positions.map((at): Setting => ({ [id]: at }));
  const twin = wiring.switches.find(({ twinOf }) => twinOf === id);
  if (twin === undefined) return own;
  const there = (['normal', 'reverse'] as const).map((at): Setting => ({ [twin.id]: at }));
  if (!twin.part.sprung) return product([own, there]).map((both): Setting => Object.assign({}, ...both));
  const ours = own.map((at): Setting => ({ ...at, [twin.id]: 'centre' }));
  return [...ours, ...there.map((at): Setting => ({ ...at, [id]: 'centre' }))];
}

/** The class of each fault, by the code. */
export function everyFault(
  wiring: Wiring,
  lamps: readonly LampUse[],
  faults: readonly Fault[],
): ReadonlyMap<string, 'latent' | 'rightSide' | 'wrongSide'> {
  const points = wiring.drives.flatMap((drive) => drive.points);
  // A circuit that no lever decides has no positions.
  const decided = wiring.circuits.filter(({ positions }) => positions.length > 0);
  const settings = product(decided.map((circuit) => positionsOf(wiring, circuit))).map(
    (positions): Setting => Object.assign({}, ...positions),
  );
  const histories = product(points.map((): Lie[] => ['normal', 'reverse'])).map(
    (lies): Lies => Object.fromEntries(points.map((id, i) => [id, lies[i] ?? 'normal'])),
  );
  const holds = wiring.relays.some((relay) => relay.holds === true);
  const good = settings.map((setting) => operate(wiring, setting));
  const judged = lamps.filter((lamp) => lamp.lever !== null && lamp.claim.length > 0);
  const says = (lamp: LampUse, lies: Lies) =>
    lamp.claim.some((claim) => Object.entries(claim).every(([point, lie]) => lies[point] === lie));
  return new Map(
    faults.map((fault) => {
      let worst: 'latent' | 'rightSide' | 'wrongSide' = 'latent';
      for (const [i, setting] of settings.entries()) {
        const before = good[i];
        if (before === undefined) throw new Error('no healthy reading');
        const told = operate(wiring, setting, [fault]);
        for (const history of histories) {
          // A relay that no throw reaches lies as it lay, and its point with it.
          const reading = holds ? operate(wiring, setting, [fault], history) : told;
          const was = bladesOf(wiring, before, null, history);
          const now = bladesOf(wiring, reading, fault, history);
          for (const lamp of judged) {
            const [shown, claim] = [shows(lamp, reading, fault), says(lamp, now)];
            if (shown === shows(lamp, before, null) && claim === says(lamp, was)) continue;
            const lies =
              shown === 'doubtful' || (shown === 'lit' && !claim) || (shown === 'dark' && claim && lamp.speaksWhenDark);
            if (lies) worst = 'wrongSide';
            else if (worst === 'latent') worst = 'rightSide';
          }
        }
        if (worst === 'wrongSide') break;
      }
      return [fault.code, worst] as const;
    }),
  );
}
