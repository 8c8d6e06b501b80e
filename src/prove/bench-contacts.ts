/** Stage 1 for contacts of drives and blades, read through the plug, for points moved by hand, and for returns. */
import type { Lie } from '../panel/index.ts';
import { type Ohm, wireOhms } from '../units/index.ts';
import { otherLie, type WiredDrive, type Wiring } from '../wiring/index.ts';
import type { ContactPins } from './at-pins.ts';
import { ohmsOnMeter } from './bands.ts';
import { CONTINUITY, OPEN_OHMS } from './tolerances.ts';
import type { BenchTest, Expect } from './types.ts';

/** One contact in one lie: that of the contact itself, which a point of opposite sense does not share. */
export function contactTest(at: ContactPins, lie: Lie): BenchTest {
  const { contact } = at;
  const points = contact.carrier.points.map(({ point, whenNormal }) => ({
    point,
    lie: lie === 'normal' ? whenNormal : otherLie(whenNormal),
  }));
  const so = points.map((each) => `${each.point} ${each.lie}`).join(', ');
  return {
    id: `bench:${contact.id}:${lie}`,
    stage: 1,
    lever: contact.carrier.lever,
    do: `Panel parted from the layout, nothing clipped to it but the meter on ohms. Set ${so} as before, and read ${contact.id} between its pins of the layout half.`,
    expect: [...contactReads(at, lie), ...points],
    tells:
      'A contact that does not close or does not open, its normal and reverse swapped, an open wire, a pin counted from the wrong side.',
    cannotTell: cannotTell(at),
  };
}

/** A point that is moved by hand, and what its contacts say then. */
export function handTest(drive: WiredDrive, point: string, lie: Lie, contacts: readonly ContactPins[]): BenchTest {
  const own = drive.asks.find((each) => each.point === point);
  return {
    id: `bench:${point}:${lie}`,
    stage: 1,
    lever: null,
    do: `Panel parted from the layout, nothing clipped to it but the meter on ohms. Move ${point} to ${lie} by hand, all the way, and read each contact between its pins of the layout half.`,
    expect: [
      ...contacts.flatMap((at) => {
        const told = at.contact.carrier.points.find((each) => each.point === point);
        return told === undefined ? [] : contactReads(at, told.whenNormal === lie ? 'normal' : 'reverse');
      }),
      ...drive.asks.map((each): Expect => ({ point: each.point, lie: each.goes === own?.goes ? lie : otherLie(lie) })),
    ],
    tells:
      'A contact that does not close or does not open, its normal and reverse swapped, an open wire, a pin counted from the wrong side.',
    cannotTell: contacts.map(cannotTell)[0] ?? '',
  };
}

function contactReads(at: ContactPins, lie: Lie): readonly Expect[] {
  const [closed, open] = lie === 'normal' ? [at.normal, at.reverse] : [at.reverse, at.normal];
  return [
    ...(closed === null
      ? []
      : [upTo(CONTINUITY + loop(at.drive), `${at.common} to ${closed}, ${at.contact.id} closed`)]),
    ...(open === null
      ? []
      : [
          {
            quantity: 'ohms' as const,
            unit: 'ohm' as const,
            low: OPEN_OHMS,
            high: null,
            at: `${at.common} to ${open}, ${at.contact.id} open`,
          },
        ]),
  ];
}

function loop(drive: WiredDrive | null): Ohm {
  return drive === null ? 0 : 2 * wireOhms(drive.wire.length, drive.wire.gauge);
}

function upTo(ohms: Ohm, at: string): Expect {
  return { quantity: 'ohms', unit: 'ohm', low: 0, high: ohmsOnMeter({ low: 0, high: ohms }).high, at };
}

function cannotTell({ contact }: ContactPins): string {
  return contact.carrier.kind === 'blades'
    ? 'Whether it changes before the blades are home: move them slowly and listen. A joint of an ohm or less.'
    : 'Whether the blades lie as the drive does: a contact on the slider tells how the drive lies, with the link unhooked too. A joint of an ohm or less.';
}

/** Each return that has several pins: one lost pin shows nowhere else. */
export function returnTests(wiring: Wiring): readonly BenchTest[] {
  return wiring.returns.flatMap(({ id, pins }): BenchTest[] => {
    const [first, ...others] = pins;
    if (first === undefined || others.length === 0) return [];
    return [
      {
        id: `bench:${id}`,
        stage: 1,
        lever: null,
        do: `Panel parted from the layout, nothing clipped to it but the meter on ohms. Read from pin to pin of return ${id} on the layout half.`,
        expect: others.map((pin) => upTo(CONTINUITY, `${first} to ${pin}`)),
        tells: `A way of ${id} that was left off: the others carry its amps, and nothing shows until one more is lost.`,
        cannotTell: `Whether every drive ends on ${id}: its own test tells that.`,
      },
    ];
  });
}
