import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { type Derived, derive } from '../derive.ts';
import { applyTransaction, invertTransaction, type PanelFile, readPanel, writePanel } from '../panel/index.ts';
import {
  type Figures,
  figuresOf,
  listOptions,
  type PanelOption,
  rankOptions,
  type WeighedOption,
  weighOption,
} from './index.ts';

function example(name: string): PanelFile {
  const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
  if (!read.ok) throw new RangeError(`${name} cannot be read`);
  return read.panel;
}

const bramble = derive(example('bramble-siding'));
const all = [...listOptions(bramble)];
const named = (id: string, options: readonly PanelOption[] = all): PanelOption => {
  const found = options.find((each) => each.id === id);
  if (found === undefined) throw new RangeError(`no option ${id}`);
  return found;
};

describe('the options of Bramble Siding', () => {
  it('[AO1] as it is first, then drives, feeds and lamps in their order', () => {
    expect(all[0]).toMatchObject({ id: 'as-is', name: 'As it is', edit: null, says: [] });
    expect(all[0]?.panel).toBe(bramble.panel);
    expect(all.map(({ id }) => id)).toEqual([
      'as-is',
      'drives:limit-2-wire',
      'drives:twin-coil:unit',
      'drives:twin-coil:charge',
      'drives:twin-coil-end-off:unit',
      'drives:twin-coil-end-off:charge',
      'drives:servo-board',
      'drives:decoder',
      'drives:hand',
      'feed:split',
      'feed:half-wave',
      'lamps:in-series',
      'lamps:spare-pole',
      'lamps:drive-contact',
      'lamps:blade-contact',
      'lamps:relays',
      'lamps:tree',
    ]);
  });

  it('[AO2] [AO3] each edit gives the panel that the option holds, a file that is read again, and undone the panel', () => {
    for (const { edit, panel } of all) {
      if (edit === null) continue;
      const after = applyTransaction(bramble.panel, edit);
      expect(writePanel(after)).toBe(writePanel(panel));
      const read = readPanel(writePanel(after));
      expect(read.ok && read.panel).toEqual(after);
      const back = applyTransaction(after, invertTransaction(edit));
      expect(writePanel(back)).toBe(writePanel(bramble.panel));
    }
  });

  it.each(['drives:limit-2-wire', 'drives:decoder', 'feed:split', 'lamps:drive-contact'])(
    '[AO4] taken over, %s has the figures that it said',
    (id) => {
      const { edit, derived } = named(id);
      if (edit === null) throw new RangeError(`${id} has no edit`);
      expect(figuresOf(derive(applyTransaction(bramble.panel, edit)))).toEqual(figuresOf(derived));
    },
  );

  it('[AO5] as it is: counted by hand from the file and the prices of docs/parts.md', () => {
    const figures = figuresOf(bramble);
    // Sheet, 8 plates (title, 2 levers, 5 places), 4 screws, 2 toggles, 12 lamps, 6 resistors for 6 pairs, 2 halves, supply, fuse, 3 drives.
    expect(figures.parts).toBe(1 + 8 + 4 + 2 + 12 + 6 + 2 + 1 + 1 + 3);
    // Two wires to each of three drives.
    expect(figures.pins).toBe(6);
    expect(figures.through).toBe(6);
    expect(figures.joints).toBe(2 * figures.wires);
    expect(figures.lampsKnow).toEqual({ lever: 12, drive: 0, blades: 0 });
    // Twelve lamps dark or lit in pairs at most: three drives of 15 mA at 12 V stall at 9 V with three quarters of it.
    const drives = 3 * 0.015 * (9 / 12);
    expect(figures.amps).toBeGreaterThan(drives);
    expect(figures.amps).toBeLessThan(drives + 6 * 0.0021);
  });

  it('[AO5] split: a wire to each drive and two common returns; half-wave the same (notes of the trade: 13 wires, not 24)', () => {
    expect(named('feed:split').derived.wiring.returns.flatMap(({ pins }) => pins)).toHaveLength(2);
    expect(pinsOf(named('feed:split'))).toBe(3 + 2);
    expect(pinsOf(named('feed:half-wave'))).toBe(3 + 2);
  });

  it('[AO6] limit-switched: three of 120 mA move at switch-on beside the lamps; decoders draw 0.2 A each of the bus', () => {
    const lamps = bramble.wiring.supplies[0]?.worstAmps ?? 0;
    const three = figuresOf(named('drives:limit-2-wire').derived).amps;
    expect(three).toBeCloseTo(lamps - 3 * 0.015 * (9 / 12) + 3 * 0.12, 9);
    const { derived } = named('drives:decoder');
    const supplied = derived.wiring.supplies.reduce((sum, { worstAmps }) => sum + worstAmps, 0);
    expect(figuresOf(derived).amps).toBeCloseTo(supplied + 3 * 0.2, 9);
  });

  it('[AO7] the share is that of the proof', () => {
    const { share, faults } = named('lamps:blade-contact').derived.faultTruth();
    expect(figuresOf(named('lamps:blade-contact').derived)).toMatchObject({
      wrongSideShare: share,
      faults: { tried: faults.tried, wrongSide: faults.wrongSide },
      lampsKnow: { lever: 0, drive: 0, blades: 12 },
    });
  });

  it('[AO8] in series four lamps a leg take too many volts from a drive on 9 V: listed with why', () => {
    const weighed = weighOption(named('lamps:in-series'), bramble);
    expect(weighed.obstacles.map(({ code, severity }) => [code, severity])).toEqual([['drive-volts-low', 'wrong']]);
    expect(weighed.obstacles[0]?.ids).toEqual(['D1', 'D2', 'D3']);
    expect(weighOption(named('as-is'), bramble).obstacles).toEqual([]);
  });

  it('[AO9] decoders: addresses 1 to 3, no lever; by hand no lever; servos three drives on two levers', () => {
    const bus = named('drives:decoder').panel;
    expect(bus.drives?.map(({ part, address }) => [part, address])).toEqual([
      ['decoder', 1],
      ['decoder', 2],
      ['decoder', 3],
    ]);
    expect(bus.levers).toEqual([]);
    expect(named('drives:hand').panel.levers).toEqual([]);
    const servos = named('drives:servo-board');
    expect(servos.derived.wiring.drives.map(({ part, feed }) => [part.what, feed])).toEqual(
      Array.from({ length: 3 }, () => ['servo', 'contact']),
    );
    // From the bus back to stall drives every point gets a lever again.
    const back = [...listOptions(derive(bus))].find(({ id }) => id === 'drives:stall-2-wire');
    expect(back?.derived.plan.levers.flatMap(({ works }) => works.map(({ point }) => point))).toEqual([
      'P1',
      'P2',
      'P3',
    ]);
  });

  it('[AO10] the fuse of 0.2 A goes where limit-switched drives would blow it; a unit stands behind 24 V', () => {
    const [limit] = named('drives:limit-2-wire').derived.wiring.supplies;
    expect(limit?.fuse?.given).toBe(false);
    expect(limit?.fuse?.amps).toBeGreaterThan(0.36);
    const unit = named('drives:twin-coil:unit').panel;
    expect(unit.supplies?.slice(1)).toEqual([
      { id: 'S2', volts: 24, amps: 1 },
      { id: 'C1', kind: 'cdu', from: 'S2', farads: 0.0047, chargeOhms: 100 },
    ]);
    expect(unit.feed).toEqual({ kind: 'pulse', supplies: ['C1'] });
  });

  it('[AO11] two poles more for lamps on spare poles, one that springs back for pulses; fifteen ways past nine', () => {
    const parts = (id: string) => named(id).panel.levers?.map((lever) => lever.switch);
    expect(parts('lamps:spare-pole')).toEqual(['toggle-3p', 'toggle-3p']);
    expect(parts('feed:split')).toEqual(['toggle-1p', 'toggle-1p']);
    expect(parts('drives:twin-coil:unit')).toEqual(['toggle-1p-sprung', 'toggle-1p-sprung']);
    const { panel, derived } = named('lamps:drive-contact');
    expect(panel.connectors?.map(({ part }) => part)).toEqual(['dsub-9', 'dsub-15']);
    expect(derived.wiring.problems.filter(({ code }) => code === 'connector-full')).toEqual([]);
  });
});

describe('the demo', () => {
  const demo = derive(example('quillhaven-harbour'));
  const options = [...listOptions(demo)];

  it('[AO1] has eight options and more, of which eight have nothing dangerous or wrong', () => {
    const sound = options.filter(({ derived }) =>
      derived.findings().every(({ severity }) => severity !== 'danger' && severity !== 'wrong'),
    );
    expect(sound.length).toBeGreaterThanOrEqual(8);
  });

  it('[AO10] seventeen limit-switched drives: no fuse above what 0.22 mm2 carries', () => {
    const { derived, panel } = named('drives:limit-2-wire', options);
    const codes = derived.findings().map(({ code }) => code);
    expect(codes).not.toContain('fuse-above-wire');
    expect(panel.supplies?.length).toBeGreaterThan(1);
  });

  it('[AO7] decoders move seventeen points that lamps follow: not tried', () => {
    expect(figuresOf(named('drives:decoder', options).derived)).toMatchObject({ faults: null, wrongSideShare: null });
  });
});

describe('own parts', () => {
  it('[AO13] stand for their kind, with their price', () => {
    const panel: PanelFile = {
      ...bramble.panel,
      parts: [{ id: 'quiet-motor', like: 'limit-2-wire', price: 21, runAmps: 0.05 }],
    };
    const options = [...listOptions(derive(panel))];
    const { derived } = named('drives:quiet-motor', options);
    expect(derived.wiring.drives.map(({ part }) => part.id)).toEqual(Array.from({ length: 3 }, () => 'quiet-motor'));
    const usual = figuresOf(named('drives:limit-2-wire').derived).cost ?? 0;
    expect(figuresOf(derived).cost).toBeCloseTo(usual + 3 * (21 - 16), 2);
  });
});

describe('laws, on seeded panels', () => {
  it('[AO2] [AO3] every option is a valid file, its edit undoes to the byte (seed 20260301)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), fc.integer({ min: 1, max: 6 }), (seed, size) => {
        const panel = generatePanel(seed, size);
        const before = writePanel(panel);
        for (const option of listOptions(derive(panel))) {
          if (option.edit === null) continue;
          const after = applyTransaction(panel, option.edit);
          expect(writePanel(after)).toBe(writePanel(option.panel));
          expect(readPanel(writePanel(after)).ok).toBe(true);
          expect(writePanel(applyTransaction(after, invertTransaction(option.edit)))).toBe(before);
        }
      }),
      { seed: 20260301, numRuns: 8 },
    );
  });

  it('[AO9] points without records, slips and three-ways all get the drive', () => {
    const panel: PanelFile = {
      format: 'mimic-panel',
      version: 1,
      strips: [
        {
          id: 'main',
          path: [
            [0, 60],
            [400, 60],
          ],
        },
        {
          id: 'siding',
          path: [
            [60, 60],
            [108, 90],
            [180, 90],
          ],
        },
        {
          id: 'across',
          path: [
            [200, 20],
            [328, 100],
          ],
        },
      ],
      crossings: [{ id: 'X1', at: [264, 60], kind: 'double-slip' }],
    };
    const present = derive(panel);
    expect(present.plan.points.map(({ of }) => of).sort()).toEqual(['point', 'slip', 'slip']);
    for (const id of ['drives:limit-2-wire', 'drives:decoder']) {
      const { derived } = named(id, [...listOptions(present)]);
      const wanted = id.slice('drives:'.length);
      expect(derived.wiring.drives.map(({ part }) => part.id)).toEqual([wanted, wanted, wanted]);
      expect(derived.plan.points.map(({ id: point }) => point)).toEqual(
        present.plan.points.map(({ id: point }) => point),
      );
    }
  });
});

describe('rankOptions', () => {
  const figures = (patch: Partial<Figures>): Figures => ({ ...figuresOf(bramble), ...patch });
  const weighed = (id: string, patch: Partial<Figures>, blocked = false): WeighedOption => ({
    ...named('as-is'),
    id,
    kind: id === 'as-is' ? 'as-is' : 'lamps',
    figures: figures(patch),
    obstacles: blocked ? [{ code: 'lamp-lies', severity: 'wrong', ids: ['H1'], message: '', count: 1 }] : [],
  });
  const ids = (options: readonly WeighedOption[]) => options.map(({ id }) => id);

  it('[AO12] as it is first, what cannot be built last, ties by the next measure, no figure after a figure', () => {
    const options = [
      weighed('a', { cost: 5, wires: 9 }),
      weighed('as-is', { cost: 9 }),
      weighed('b', { cost: 1 }, true),
      weighed('c', { cost: 5, wires: 7 }),
      weighed('d', { cost: null }),
      weighed('e', { cost: 3 }),
    ];
    expect(ids(rankOptions(options, ['cost', 'wires']))).toEqual(['as-is', 'e', 'c', 'a', 'd', 'b']);
    expect(ids(rankOptions(options, []))).toEqual(['as-is', 'a', 'c', 'd', 'e', 'b']);
  });

  it('[AO12] by what lamps know the most comes first', () => {
    const options = [
      weighed('lever', { lampsKnow: { lever: 2, drive: 0, blades: 0 } }),
      weighed('blades', { lampsKnow: { lever: 0, drive: 0, blades: 2 } }),
      weighed('drive', { lampsKnow: { lever: 0, drive: 2, blades: 0 } }),
    ];
    expect(ids(rankOptions(options, ['knows']))).toEqual(['blades', 'drive', 'lever']);
  });
});

function pinsOf({ derived }: { readonly derived: Derived }): number {
  return derived.wiring.connectors.reduce((sum, { pins }) => sum + pins.length, 0);
}
