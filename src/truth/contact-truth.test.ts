import { describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { groupLamps, polesOf, readLamps } from '../lamps/index.ts';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { wirePanel } from '../wiring/index.ts';
import { proveFaults } from './prove-faults.ts';
import { proveHealthy, type TruthInput } from './prove-healthy.ts';

type Scheme = 'across-feed' | 'spare-pole' | 'drive-contact' | 'blade-contact' | 'latching-relay' | 'tree';

const P1 = { id: 'P1', at: [60, 60] };
/** A branch off a line: a lamp on each leg, lit from a supply of their own where contacts light them. */
function panel(scheme: Scheme, more: object = {}): TruthInput {
  const read = checkPanel({
    format: 'mimic-panel',
    version: 1,
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'branch',
        path: [
          [60, 60],
          [108, 90],
          [300, 90],
        ],
      },
    ],
    points: [P1],
    supplies: [
      { id: 'S1', volts: 12 },
      { id: 'S9', volts: 12 },
    ],
    lighting: { scheme, ...(scheme === 'across-feed' ? {} : { supply: 'S9' }) },
    lamps: [
      { id: 'H1', at: [150, 60], shows: { P1: 'normal' } },
      { id: 'H2', at: [150, 90], shows: { P1: 'reverse' } },
    ],
    ...more,
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const catalogue = resolveCatalogue(read.panel.parts);
  const plan = readPlan(read.panel);
  const { lamps, trees } = readLamps(read.panel, catalogue, plan);
  const { switches } = chooseSwitches(read.panel, catalogue, plan, polesOf(trees));
  const { groups } = groupLamps(read.panel, catalogue, plan, lamps);
  return {
    plan,
    switches,
    lamps,
    wiring: wirePanel({ panel: read.panel, catalogue, plan, switches, lamps, trees, groups }),
  };
}

const coils = (feed: object, more: object = {}) => ({ points: [{ ...P1, drive: 'twin-coil' }], feed, ...more });
const HAND = { points: [{ ...P1, drive: 'hand' }], levers: [] };
const lever = (part: string) => ({ levers: [{ id: 'L1', works: [{ point: 'P1' }], switch: part }] });

/** The class of every fault whose code matches, each class once. */
function classes(input: TruthInput, pattern: RegExp): readonly string[] {
  const found = proveFaults(input).outcomes.filter(({ fault }) => pattern.test(fault));
  if (found.length === 0) throw new Error(`no fault like ${pattern}`);
  return [...new Set(found.map((each) => each.class))].sort();
}

/** Codes of wires that end at a drive's own tags, open. */
function opensAtDrive(input: TruthInput, tags: RegExp): RegExp {
  const wires = input.wiring.wires.filter(({ to }) => tags.test(to)).map(({ id }) => id);
  if (wires.length === 0) throw new Error(`no wire to ${tags}`);
  return new RegExp(`^open:(${wires.join('|')})$`);
}

describe('the healthy panel lit by contacts', () => {
  it('[TR17] tells the truth in every setting, whatever moves the contacts', () => {
    const panels: readonly TruthInput[] = [
      ...(['spare-pole', 'drive-contact', 'blade-contact', 'tree'] as const).map((scheme) => panel(scheme)),
      panel('blade-contact', coils({ kind: 'pulse' })),
      panel('latching-relay', coils({ kind: 'pulse' })),
      panel('spare-pole', coils({ kind: 'charge', farads: 0.0022 })),
      panel('across-feed', HAND),
      panel('drive-contact', {
        points: [{ ...P1, drive: 'D1', sense: 'opposite' }],
        drives: [{ id: 'D1', part: 'stall-2-wire' }],
      }),
      panel('drive-contact', { levers: [{ id: 'L1', works: [{ point: 'P1', opposite: true }] }] }),
      panel('spare-pole', { levers: [{ id: 'L1', works: [{ point: 'P1', opposite: true }] }] }),
      panel('latching-relay', {
        ...coils({ kind: 'pulse' }),
        levers: [{ id: 'L1', works: [{ point: 'P1', opposite: true }] }],
      }),
    ];
    for (const input of panels) {
      expect(input.wiring.problems).toEqual([]);
      const { untruths, doubtful, contradictions, silent } = proveHealthy(input);
      expect([untruths, doubtful, contradictions, silent]).toEqual([[], [], [], []]);
    }
  });

  it('[TR17] with the lever in the middle poles fall silent, contacts on drive and blades go on telling', () => {
    const middle = (scheme: Scheme, part: string) => proveHealthy(panel(scheme, lever(part)));
    // Two lamps, two histories.
    expect(middle('spare-pole', 'toggle-3p-centre-off').silent.length).toBe(4);
    for (const scheme of ['drive-contact', 'blade-contact'] as const) {
      const { silent, untruths, settings } = middle(scheme, 'toggle-2p-centre-off');
      expect([silent, untruths, settings]).toEqual([[], [], '4']);
    }
  });

  it('[TR17] what knows the blades never leads them; the drive’s contact changes near mid-stroke, the rest at once', () => {
    // A stall drive runs for 2.5 s.
    const leads = (scheme: Scheme) => proveHealthy(panel(scheme)).leads.map(({ seconds }) => seconds);
    expect(leads('spare-pole')).toEqual([2.5, 2.5]);
    expect(leads('drive-contact')).toEqual([1.25, 1.25]);
    expect(leads('blade-contact')).toEqual([]);
  });
});

/**
 * The trade's own rule (what the lamp's circuit can know decides which faults make it lie): basis asked, wrong-side for every open
 * between lamp and drive; basis drive, for a link off; basis blades, for neither.
 */
describe('single faults by what the lamp knows', () => {
  const stall = (scheme: Scheme) => panel(scheme);

  it('[TR18] asked: every open at the drive, a link off, and all that the drive does of itself', () => {
    for (const scheme of ['across-feed', 'spare-pole'] as const) {
      const input = stall(scheme);
      expect(classes(input, opensAtDrive(input, /^P1\.[ab]$/))).toEqual(['wrongSide']);
      expect(classes(input, /^(open|short|crossed|stuck|linkage):P1(=|$)/)).toEqual(['wrongSide']);
    }
    // One that has cut itself off carries nothing, and needs its wires all the same.
    const limit = panel('across-feed', { points: [{ ...P1, drive: 'limit-2-wire' }] });
    expect(classes(limit, opensAtDrive(limit, /^P1\.[ab]$/))).toEqual(['wrongSide']);
    expect(classes(limit, /^(crossed|stuck|linkage):P1(=|$)/)).toEqual(['wrongSide']);
  });

  it('[TR18] drive: a link off alone, and a contact that follows nothing', () => {
    const input = stall('drive-contact');
    expect(classes(input, opensAtDrive(input, /^P1\.[ab]$/))).toEqual(['rightSide']);
    expect(classes(input, /^(crossed|stuck|open|short):P1(=|$)/)).toEqual(['rightSide']);
    expect(classes(input, /^linkage:P1$/)).toEqual(['wrongSide']);
    expect(classes(input, /^weld:P1\.c2/)).toEqual(['wrongSide']);
    // Both lamps dark: silence, and no lie.
    expect(classes(input, /^open:P1\.c2$/)).toEqual(['rightSide']);
  });

  it('[TR18] blades: neither', () => {
    const input = stall('blade-contact');
    expect(classes(input, opensAtDrive(input, /^P1\.[ab]$/))).toEqual(['rightSide']);
    expect(classes(input, /^(crossed|stuck|linkage|open|short):P1(=|$)/)).toEqual(['rightSide']);
    expect(classes(input, /^weld:P1\.b1/)).toEqual(['wrongSide']);
  });

  it('[TR18] coils: an open one lets lie what knows the asking, and not what knows the blades', () => {
    for (const feed of [{ kind: 'pulse' }, { kind: 'charge', farads: 0.0022 }]) {
      const blades = panel('blade-contact', coils(feed, { supplies: SUPPLIES_24 }));
      expect(classes(blades, /^open:P1\.[nr]$/)).toEqual(['rightSide']);
      expect(classes(blades, opensAtDrive(blades, /^P1\.(n|r|com)$/))).toEqual(['rightSide']);
    }
    const relay = panel('latching-relay', coils({ kind: 'pulse' }, { supplies: SUPPLIES_24 }));
    const pole = panel('spare-pole', coils({ kind: 'charge', farads: 0.0022 }, { supplies: SUPPLIES_24 }));
    for (const input of [relay, pole]) {
      expect(classes(input, /^open:P1\.[nr]$/)).toEqual(['wrongSide']);
      expect(classes(input, opensAtDrive(input, /^P1\.[nr]$/))).toEqual(['wrongSide']);
      expect(classes(input, /^(stuck|crossed|linkage):P1(=|$)/)).toEqual(['wrongSide']);
    }
    expect(classes(pole, opensAtDrive(pole, /^P1\.com$/))).toEqual(['wrongSide']);
    // With its common lost a pulse goes through both coils one behind the other, 10 ohm, to the relay's other coil of 200 ohm: that gets
    // 24 V / 210 ohm, as good as the 24 V / 200 ohm of its own. Pulled both ways at once it stays as it was, like the point.
    expect(classes(relay, opensAtDrive(relay, /^P1\.com$/))).toEqual(['rightSide']);
  });

  it('[TR18] a relay that is stuck, whose coil is open or has lost its wire, tells an old throw', () => {
    const relay = panel('latching-relay', coils({ kind: 'pulse' }, { supplies: SUPPLIES_24 }));
    expect(classes(relay, /^(open:K1|stuck:K1=(set|reset)|weld:K1\.1=(set|reset))$/)).toEqual(['wrongSide']);
    const input = relay.wiring.wires.filter(({ to }) => to === 'K1.sp' || to === 'K1.rp').map(({ id }) => id);
    expect(input.length).toBe(2);
    expect(classes(relay, new RegExp(`^open:(${input.join('|')})$`))).toEqual(['wrongSide']);
    // Its contact open: dark, and no lie.
    expect(classes(relay, /^open:K1\.1$/)).toEqual(['rightSide']);
    // No pulse at all leaves point and relay where they were, and alike.
    expect(classes(relay, /^open:L1\.1$/)).toEqual(['rightSide']);
  });

  it('[TR18] a point that a hand works: its link off lies to the contact on the rod, not to one on the blades', () => {
    expect(classes(panel('drive-contact', HAND), /^linkage:P1$/)).toEqual(['wrongSide']);
    expect(classes(panel('blade-contact', HAND), /^linkage:P1$/)).toEqual(['rightSide']);
  });

  it('[TR18] a lost common of a split feed: wrong-side for what knows the asking, right-side for the blades', () => {
    const split = {
      feed: { kind: 'split', supplies: ['S1', 'S2'] },
      supplies: ['S1', 'S2', 'S9'].map((id) => ({ id, volts: 12 })),
    };
    expect(classes(panel('spare-pole', split), /^open:R0$/)).toEqual(['wrongSide']);
    expect(classes(panel('blade-contact', split), /^open:R0$/)).toEqual(['rightSide']);
  });
});

const SUPPLIES_24 = [
  { id: 'S1', volts: 24 },
  { id: 'S9', volts: 12 },
];
