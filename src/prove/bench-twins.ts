/** Levers on other panels: the pins that lead there and back, and what stands in for their switch. */
import { type Ohm, wireOhms } from '../units/index.ts';
import type { Position, WiredSwitch, Wiring } from '../wiring/index.ts';
import { pinsByTerminal } from './at-pins.ts';
import { CONTINUITY, OPEN_OHMS } from './tolerances.ts';
import type { BenchTest, Expect } from './types.ts';

/** The switch of another panel as the connectors see it. */
export interface TwinPins {
  readonly each: WiredSwitch;
  readonly lever: string;
  /** What goes out, and what comes back, by the twin's position: pairs of pins that it joins. */
  joins(position: Position): readonly (readonly [out: string, back: string])[];
  /** Every pair that it joins in any position. */
  readonly pairs: readonly (readonly [out: string, back: string])[];
}

/** Every such switch with all its pins, in the order of the wiring. */
export function twinsAtPins(wiring: Wiring): readonly TwinPins[] {
  const pinTo = pinsByTerminal(wiring);
  return wiring.switches.flatMap((each): TwinPins[] => {
    const { id, twinOf } = each;
    if (twinOf === undefined) return [];
    const pin = (number: number) => pinTo.get(`${id}.t${number}`) ?? null;
    const joins = (position: Position): TwinPins['pairs'] => {
      if (position === 'centre') return [];
      // Crosswise linked: what goes out at tags 1 and 4 comes back at 2 and 5. One changeover: out at 2, back at 1 or 3.
      const ways =
        pin(4) === null
          ? [[pin(2), pin(position === 'normal' ? 1 : 3)] as const]
          : [
              [pin(1), pin(position === 'normal' ? 2 : 5)] as const,
              [pin(4), pin(position === 'normal' ? 5 : 2)] as const,
            ];
      return ways.flatMap(([out, back]) => (out === null || back === null ? [] : [[out, back] as const]));
    };
    const pairs = [...joins('normal'), ...joins('reverse')];
    return pairs.length === 0 ? [] : [{ each, lever: twinOf, joins, pairs }];
  });
}

/** Stage 1: the cable to the other panel and the switch there, from our connector, with a meter on ohms. */
export function twinTests(wiring: Wiring): readonly BenchTest[] {
  return twinsAtPins(wiring).flatMap(({ each, lever, joins, pairs }) => {
    const { id, part } = each;
    const cable = wiring.wires.reduce(
      (most, { to, side, ohms }): Ohm => (side === 'layout' && to.startsWith(`${id}.`) ? Math.max(most, ohms) : most),
      wireOhms(0, 1),
    );
    const positions: readonly Position[] = part.sprung ? ['normal', 'reverse', 'centre'] : ['normal', 'reverse'];
    return positions.map((position): BenchTest => {
      const closed = joins(position);
      const isClosed = ([out, back]: readonly [string, string]) => closed.some(([a, b]) => a === out && b === back);
      const how = position === 'centre' ? 'let go' : part.sprung ? `held over to ${position}` : position;
      return {
        id: `bench:${id}:${position}`,
        stage: 1,
        lever,
        do: `The cable to the other panel in its socket there, that panel without power, our own panel unplugged. The lever there that works ${lever} ${how}. Meter on ohms between the pins of the layout half.`,
        expect: pairs.map((pair): Expect => {
          const at = `${pair[0]} to ${pair[1]}`;
          return isClosed(pair)
            ? { quantity: 'ohms', unit: 'ohm', low: 0, high: CONTINUITY + 2 * cable, at }
            : { quantity: 'ohms', unit: 'ohm', low: OPEN_OHMS, high: null, at };
        }),
        tells: 'A wire of the cable open or in the next pin, pairs crossed, the links of the switch there left off.',
        cannotTell: 'A joint of an ohm or less.',
      };
    });
  });
}

/** On a test plug: the links that stand in for the switch of the other panel while it lies so. */
export function twinLinkWords(wiring: Wiring, lever: string | null, position: Position | null): string {
  const twin = twinsAtPins(wiring).find((each) => each.lever === lever);
  if (twin === undefined || position === null || position === 'centre') return '';
  const links = twin.joins(position).map(([out, back]) => `${out} to ${back}`);
  return ` In place of the switch of the other panel, ${position}, join ${links.join(' and ')} on the test plug${twin.each.part.sprung ? ' for as long as it would be held' : ''}.`;
}
