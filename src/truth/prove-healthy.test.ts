import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { groupLamps, readLamps } from '../lamps/index.ts';
import { type PanelFile, readPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { wirePanel } from '../wiring/index.ts';
import { proveHealthy, type TruthInput } from './prove-healthy.ts';
import type { HealthyTruth } from './types.ts';

function read(text: string): PanelFile {
  const answer = readPanel(text);
  if (!answer.ok) throw new Error(JSON.stringify(answer.problems));
  return answer.panel;
}

function prove(panel: PanelFile): HealthyTruth {
  return proveHealthy(wiredOf(panel));
}

function wiredOf(panel: PanelFile): TruthInput {
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { switches } = chooseSwitches(panel, catalogue, plan);
  const { lamps, trees } = readLamps(panel, catalogue, plan);
  const { groups } = groupLamps(panel, catalogue, plan, lamps);
  return { plan, switches, lamps, wiring: wirePanel({ panel, catalogue, plan, switches, lamps, trees, groups }) };
}

function loop(more: object): PanelFile {
  return read(
    JSON.stringify({
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
          id: 'loop',
          path: [
            [60, 60],
            [100, 85],
            [200, 85],
            [240, 60],
          ],
        },
      ],
      levers: [
        { id: 'L1', works: [{ point: 'P1' }] },
        { id: 'L2', works: [{ point: 'P2' }] },
      ],
      ...more,
    }),
  );
}

describe('proveHealthy', () => {
  it.each(['bramble-siding', 'quillhaven-harbour'])('[TR1] finds no untruth in %s', (name) => {
    const truth = prove(read(readFileSync(`examples/${name}.mimic.json`, 'utf8')));
    expect(truth.untruths).toEqual([]);
    expect(truth.doubtful).toEqual([]);
    expect(truth.contradictions).toEqual([]);
    expect(truth.silent).toEqual([]);
  });

  it('[TR2] counts settings: 12 levers are 4,096; a centre-off lever of two points counts 2 + 4; a point that none works 2', () => {
    const demo = read(readFileSync('examples/quillhaven-harbour.mimic.json', 'utf8'));
    expect(prove(demo).settings).toBe('4096');
    const works = [{ point: 'P1' }, { point: 'P2' }];
    expect(prove(loop({ levers: [{ id: 'L1', switch: 'toggle-2p-centre-off', works }] })).settings).toBe('6');
    expect(prove(loop({ levers: [{ id: 'L1', works: [{ point: 'P1' }] }] })).settings).toBe('4');
  });

  it('[TR3] calls a lamp an untruth that is lit by one lever and claims the other as well', () => {
    const truth = prove(loop({ lamps: [{ id: 'H1', at: [150, 85], shows: { P1: 'reverse', P2: 'reverse' } }] }));
    // No lever alone can say it: it is dark always, and should be lit when both lie reverse.
    expect(truth.untruths).toEqual([
      { levers: { L1: 'reverse', L2: 'reverse' }, history: {}, lamp: 'H1', shown: 'unlit', should: 'lit' },
    ]);
  });

  it('[TR4] a lamp that starves is unlit where it should be lit', () => {
    const lamps = ['H1', 'H2', 'H3', 'H4', 'H5'].map((id, i) => ({
      id,
      at: [90 + 20 * i, 60],
      part: 'led-3-green-old',
      shows: { P1: 'normal' },
    }));
    const truth = prove(
      loop({ lamps, lampGroups: [{ id: 'G1', lamps: lamps.map((lamp) => lamp.id), arrange: 'series' }] }),
    );
    // Five lamps of about 2 V on 9 V: a glimmer.
    expect(truth.untruths.map((each) => [each.lamp, each.shown, each.should, each.levers])).toEqual(
      lamps.map((lamp) => [lamp.id, 'unlit', 'lit', { L1: 'normal' }]),
    );
  });

  it('[TR5] is silent, and says so, with a lever in the middle', () => {
    const levers = [{ id: 'L1', switch: 'toggle-2p-centre-off', works: [{ point: 'P1' }, { point: 'P2' }] }];
    const lamps = [
      { id: 'H1', at: [150, 60], shows: { P1: 'normal' } },
      { id: 'H2', at: [150, 85], shows: { P1: 'reverse' } },
    ];
    const truth = prove(loop({ levers, lamps }));
    expect(truth.untruths).toEqual([]);
    expect(truth.silent).toEqual([
      { levers: { L1: 'centre' }, history: { P1: 'normal' }, lamp: 'H1' },
      { levers: { L1: 'centre' }, history: { P1: 'reverse' }, lamp: 'H1' },
      { levers: { L1: 'centre' }, history: { P1: 'normal' }, lamp: 'H2' },
      { levers: { L1: 'centre' }, history: { P1: 'reverse' }, lamp: 'H2' },
    ]);
  });

  it('[TR6] a lamp that speaks when dark may not fall silent', () => {
    const levers = [{ id: 'L1', switch: 'toggle-2p-centre-off', works: [{ point: 'P1' }, { point: 'P2' }] }];
    const truth = prove(loop({ levers, lamps: [{ id: 'H1', at: [150, 60], shows: { P1: 'normal' } }] }));
    expect(truth.untruths).toEqual([
      { levers: { L1: 'centre' }, history: { P1: 'normal' }, lamp: 'H1', shown: 'unlit', should: 'lit' },
    ]);
  });

  it('[TR7] tells by how long lamps lead the blades: the time the drive takes', () => {
    const truth = prove(loop({ lamps: [{ id: 'H1', at: [150, 60], shows: { P1: 'normal' } }] }));
    // A stall drive runs 2.5 s: the file format's typical part.
    expect(truth.leads).toEqual([{ lamp: 'H1', seconds: 2.5 }]);
  });

  it('[TR8] finds both legs lit together, and the untruths behind it, when a lamp is soldered the wrong way round', () => {
    const lamps = [
      { id: 'H1', at: [150, 60], shows: { P1: 'normal' } },
      { id: 'H2', at: [150, 85], shows: { P1: 'reverse' } },
    ];
    const { plan, switches, lamps: uses, wiring } = wiredOf(loop({ lamps }));
    const turned: Record<string, string> = { 'H2.a': 'H2.k', 'H2.k': 'H2.a' };
    const wires = wiring.wires.map((each) => ({
      ...each,
      from: turned[each.from] ?? each.from,
      to: turned[each.to] ?? each.to,
    }));
    expect(proveHealthy({ plan, switches, lamps: uses, wiring }).contradictions).toEqual([]);
    const truth = proveHealthy({ plan, switches, lamps: uses, wiring: { ...wiring, wires } });
    expect(truth.contradictions).toEqual([{ levers: { L1: 'normal' }, history: {}, lamp: 'H1' }]);
    expect(truth.untruths.map((each) => [each.lamp, each.levers.L1, each.shown])).toEqual([
      ['H2', 'normal', 'lit'],
      ['H2', 'reverse', 'unlit'],
    ]);
  });

  it('[TR9] a sprung lever has histories and no position; what cannot be wired counts as well; a point counts once', () => {
    const works = [{ point: 'P1' }, { point: 'P2' }];
    const settings = (lever: object, more: object = {}) =>
      prove(loop({ levers: [{ id: 'L1', works, ...lever }], ...more })).settings;
    // Two points let go: 2 x 2. Two positions of a held lever. A middle: 2 and 2 x 2.
    expect(settings({ switch: 'toggle-2p-sprung' })).toBe('4');
    expect(settings({ works: [...works, { point: 'P1' }], switch: 'toggle-2p-sprung' })).toBe('4');
    // A pulse feed is not wired, one pole is too few: the levers are there all the same.
    expect(settings({ switch: 'toggle-2p-centre-off' }, { feed: { kind: 'pulse' } })).toBe('6');
    expect(settings({ switch: 'toggle-1p-centre-off' })).toBe('6');
    expect(settings({ switch: 'toggle-1p-sprung' }, { feed: { kind: 'pulse' } })).toBe('4');
    // A lever without points still has two positions; both points are then worked by none.
    expect(settings({ works: [] })).toBe('8');
    const truth = prove(
      loop({
        levers: [{ id: 'L1', works, switch: 'toggle-2p-sprung' }],
        lamps: [
          { id: 'H1', at: [150, 20], shows: { P1: 'normal' } },
          { id: 'H2', at: [150, 20], shows: { P1: 'reverse' } },
        ],
      }),
    );
    expect(truth.silent).toEqual(
      ['H1', 'H2'].flatMap((lamp) => ['normal', 'reverse'].map((lie) => ({ levers: {}, history: { P1: lie }, lamp }))),
    );
  });

  it('[TR11] a claim on thirty points of thirty levers is proved at once: dark where all lie so', () => {
    const count = 30;
    const ids = Array.from({ length: count }, (_, i) => i + 1);
    const panel = (more: object, lever: (i: number) => object) =>
      read(
        JSON.stringify({
          format: 'mimic-panel',
          version: 1,
          strips: [
            {
              id: 'main',
              path: [
                [0, 60],
                [120 * count + 100, 60],
              ],
            },
            ...ids.map((i) => ({
              id: `siding-${i}`,
              path: [
                [120 * i, 60],
                [120 * i + 40, 85],
                [120 * i + 80, 85],
              ],
            })),
          ],
          points: ids.map((i) => ({ id: `P${i}`, at: [120 * i, 60] })),
          levers: ids.map((i) => ({ id: `L${i}`, works: [{ point: `P${i}` }], ...lever(i) })),
          ...more,
        }),
      );
    const shows = Object.fromEntries(ids.map((i) => [`P${i}`, 'reverse']));
    const lamps = [{ id: 'H1', at: [50, 20], shows }];
    const all = prove(panel({ lamps }, () => ({})));
    expect(all.untruths).toEqual([
      {
        levers: Object.fromEntries(ids.map((i) => [`L${i}`, 'reverse'])),
        history: {},
        lamp: 'H1',
        shown: 'unlit',
        should: 'lit',
      },
    ]);
    expect(all.settings).toBe((2n ** 30n).toString());
    const middle = prove(panel({ lamps }, (i) => (i === 7 ? { switch: 'toggle-2p-centre-off' } : {})));
    expect(middle.silent).toEqual([{ levers: { L7: 'centre' }, history: {}, lamp: 'H1' }]);
    // All thirty on one lever that rests in the middle: lit and dark as asked, silent between, lit by no history.
    const works = ids.map((i) => ({ point: `P${i}` }));
    const one = prove(panel({ lamps, levers: [{ id: 'L1', switch: 'toggle-2p-centre-off', works }] }, () => ({})));
    expect(one.untruths.map((each) => [each.levers, each.should])).toEqual([[{ L1: 'centre' }, 'lit']]);
    expect(one.silent.map((each) => each.levers)).toEqual([{ L1: 'centre' }]);
  });

  it('[TR12] a doubtful lamp on the right side is listed; on the wrong side it is an untruth', () => {
    // A lamp of an old kind, seen at 2 mA: 9 V, 2.0 V at 10 mA. Less than 1.9 V at 2 mA (n Vt ln 5 and 5 ohm x 8 mA less: 0.12 V).
    const lamps = (ohms: number) => ({
      lamps: [
        { id: 'H1', at: [150, 60], part: 'led-3-amber-old', shows: { P1: 'normal' } },
        { id: 'H2', at: [150, 85], part: 'led-3-amber-old', shows: { P1: 'reverse' } },
      ],
      lampGroups: [{ id: 'G1', lamps: ['H1', 'H2'], ohms }],
    });
    // (9 - 1.88) / 3300 = 2.16 mA, and with 8.55 V and 5 % 1.9 mA: may be too little to be seen.
    const right = prove(loop(lamps(3300)));
    expect(right.untruths).toEqual([]);
    expect(right.doubtful.map((each) => [each.lamp, each.levers.L1, each.side])).toEqual([
      ['H1', 'normal', 'right'],
      ['H2', 'reverse', 'right'],
    ]);
    // (9 - 1.88) / 3900 = 1.83 mA, at best 9.45 V and 5 % less: 2.07 mA.
    const wrong = prove(loop(lamps(3900)));
    expect(wrong.doubtful.map((each) => each.side)).toEqual(['wrong', 'wrong']);
    expect(wrong.untruths.map((each) => [each.lamp, each.levers.L1, each.shown, each.should])).toEqual([
      ['H1', 'normal', 'unlit', 'lit'],
      ['H2', 'reverse', 'unlit', 'lit'],
    ]);
  });

  it('[TR12] behind a weak supply the side is that of the worst that the other levers leave', () => {
    // 12 V behind 100 ohm, a stalled motor of 800 ohm on each lever. L2 in its middle: 12 x 800 / 900 = 10.67 V, less the lamp's
    // 0.2 V: (10.5 - 1.88) / 4060 = 2.1 mA, seen. L2 thrown: 12 x 400 / 500 = 9.6 V: (9.4 - 1.88) / 4060 = 1.85 mA, not seen.
    const truth = prove(
      loop({
        supplies: [{ id: 'S1', volts: 12, ohms: 100 }],
        levers: [
          { id: 'L1', works: [{ point: 'P1' }] },
          { id: 'L2', works: [{ point: 'P2' }], switch: 'toggle-2p-centre-off' },
        ],
        lamps: [
          { id: 'H1', at: [150, 60], part: 'led-3-amber-old', shows: { P1: 'normal' } },
          { id: 'H2', at: [150, 85], part: 'led-3-amber-old', shows: { P1: 'reverse' } },
        ],
        lampGroups: [{ id: 'G1', lamps: ['H1', 'H2'], ohms: 4060 }],
      }),
    );
    expect(truth.doubtful.map((each) => [each.lamp, each.levers, each.side])).toEqual([
      ['H1', { L1: 'normal' }, 'wrong'],
      ['H2', { L1: 'reverse' }, 'wrong'],
    ]);
    expect(truth.untruths.map((each) => [each.lamp, each.shown])).toEqual([
      ['H1', 'unlit'],
      ['H2', 'unlit'],
    ]);
  });

  it('[TR4] a lamp that is destroyed is dark, and an untruth', () => {
    // 9 V through 100 ohm: 70 mA, more than twice 20 mA.
    const truth = prove(
      loop({
        lamps: [{ id: 'H1', at: [150, 60], shows: { P1: 'normal' } }],
        lampGroups: [{ id: 'G1', lamps: ['H1'], ohms: 100 }],
      }),
    );
    expect(truth.untruths.map((each) => [each.lamp, each.levers.L1, each.shown])).toEqual([['H1', 'normal', 'unlit']]);
  });
});
