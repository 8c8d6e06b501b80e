/** Levers on another panel: coils thrown through the cable, single faults beside brute force, and edits beside what follows from scratch. */
import { describe, expect, it } from 'vitest';
import { combine } from '../../src/cli/combine.ts';
import { type Derived, derive, rederive } from '../../src/derive.ts';
import type { LeverRecord, PanelFile } from '../../src/panel/index.ts';
import { proveFaults } from '../../src/truth/index.ts';
import { faultsOf } from '../../src/wiring/index.ts';
import { everyFault } from '../oracle/every-fault.ts';

type Twin = LeverRecord['twin'];

/** Two points, each with its lever; lamps on the feed of P1, on the drive of P2, and one behind the contacts of both. */
function panelOf(twin: Twin): PanelFile {
  const lamp = (id: string, x: number, shows: Record<string, 'normal' | 'reverse'>) => ({
    id,
    at: [x, 150] as [number, number],
    part: 'led-3-amber',
    shows,
  });
  return {
    format: 'mimic-panel',
    version: 1,
    name: 'Bramble Siding',
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'one',
        path: [
          [60, 60],
          [84, 45],
          [120, 45],
        ],
      },
      {
        id: 'two',
        path: [
          [160, 60],
          [184, 45],
          [220, 45],
        ],
      },
    ],
    points: [
      { id: 'P1', at: [60, 60] },
      { id: 'P2', at: [160, 60] },
    ],
    levers: [
      { id: 'L1', works: [{ point: 'P1' }], ...(twin === undefined ? {} : { twin }) },
      { id: 'L2', works: [{ point: 'P2' }], lighting: { scheme: 'drive-contact', supply: 'S9' } },
    ],
    lamps: [
      lamp('N1', 100, { P1: 'normal' }),
      lamp('R1', 120, { P1: 'reverse' }),
      lamp('N2', 140, { P2: 'normal' }),
      lamp('A2', 160, { P2: 'reverse', P1: 'normal' }),
    ],
    supplies: [
      { id: 'S1', volts: 12, amps: 1 },
      { id: 'S9', volts: 12, amps: 1 },
    ],
  };
}

const SETTINGS = (['normal', 'reverse'] as const).flatMap((own) =>
  (['normal', 'reverse', 'centre'] as const).map((there) => ({ L1: own, 'L1.twin': there })),
);

function answersOf(derived: Derived) {
  return {
    truth: JSON.stringify(derived.truth()),
    faults: JSON.stringify(derived.faultTruth()),
    solve: JSON.stringify(SETTINGS.map((levers) => derived.operate(levers))),
    check: JSON.stringify(derived.findings()),
    wires: JSON.stringify(derived.loom.wires),
    tests: JSON.stringify(derived.tests()),
  };
}

describe('a coil thrown from two panels', () => {
  it('is too weak where it is so through the cable, though its own lever throws it', () => {
    const throwsAt = (volts: number, more: Partial<LeverRecord>) => {
      const { levers: _, lamps: __, ...panel } = panelOf(undefined);
      const found = derive({
        ...panel,
        points: [{ id: 'P1', at: [60, 60], drive: 'D1' }],
        drives: [{ id: 'D1', part: 'twin-coil' }],
        levers: [{ id: 'L1', works: [{ point: 'P1' }], ...more }],
        feed: { kind: 'pulse', supplies: ['S1'] },
        supplies: [{ id: 'S1', volts, voltsOffLoad: volts, amps: 5 }],
      }).findings();
      return found.flatMap(({ code, values }) => (code === 'throw-too-weak' ? [values.amps] : []));
    };
    const twin = { panel: 'Quillhaven Harbour', lever: 'L7', by: 'latch' } as const;
    // 5 ohm of coil, and out and back 2 x 3 m of 0.22 mm2, 0.470 ohm (0.017241 x 6 / 0.22, copper at 20 C), to it and to the other panel:
    // 11.5 / 5.470 = 2.10 A, and 2 A throws it; 11.5 / 5.940 = 1.936 A.
    expect(throwsAt(11.5, {})).toEqual([]);
    expect(throwsAt(11.5, { twin })).toEqual([expect.closeTo(11.5 / (5 + (2 * 0.017241 * 6) / 0.22), 3)]);
    expect(throwsAt(12.5, { twin })).toEqual([]);
  });
});

describe('[TR19] single faults of a point worked from two panels beside brute force', () => {
  it.each([
    ['two-way', 'reversing'],
    ['two-way', 'split'],
    ['latch', 'reversing'],
    ['latch', 'split'],
  ] as const)('%s on a %s feed', (twin, feed) => {
    const panel = combine({ drive: 'stall-2-wire', feed, scheme: 'across-feed', twin });
    const { plan, switches, lamps, wiring } = derive(panel);
    const faults = faultsOf(wiring);
    const { outcomes } = proveFaults({ plan, switches, lamps, wiring });
    const proved = Object.fromEntries(outcomes.map(({ fault, class: found }) => [fault, found]));
    expect(proved).toEqual(Object.fromEntries(everyFault(wiring, lamps, faults)));
    expect(new Set(Object.values(proved)).size).toBe(3);
  });
});

describe('edits of a lever on another panel', () => {
  it('leave what a panel from scratch says', () => {
    const there = { panel: 'Quillhaven Harbour', lever: 'L7' };
    const steps: readonly Twin[] = [
      undefined,
      { ...there, by: 'two-way' },
      { ...there, by: 'latch' },
      { ...there, lever: 'L8', by: 'two-way' },
      undefined,
    ];
    let derived = derive(panelOf(steps[0]));
    answersOf(derived);
    for (const twin of steps.slice(1)) {
      derived = rederive(derived, panelOf(twin));
      expect(answersOf(derived)).toEqual(answersOf(derive(panelOf(twin))));
    }
  });
});
