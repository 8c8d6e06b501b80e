import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { groupLamps, readLamps } from '../lamps/index.ts';
import { readPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { faultByCode, faultsOf } from './faults.ts';
import { operate } from './operate.ts';
import type { Positions } from './positions.ts';
import type { Wiring } from './types.ts';
import { wirePanel } from './wire-panel.ts';

function wiringOf(name: string, change: (file: Record<string, unknown>) => void = () => {}): Wiring {
  const file = JSON.parse(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
  change(file);
  const read = readPanel(JSON.stringify(file));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const catalogue = resolveCatalogue(read.panel.parts);
  const plan = readPlan(read.panel);
  const { switches } = chooseSwitches(read.panel, catalogue, plan);
  const { lamps, trees } = readLamps(read.panel, catalogue, plan);
  const { groups } = groupLamps(read.panel, catalogue, plan, lamps);
  return wirePanel({ panel: read.panel, catalogue, plan, switches, lamps, trees, groups });
}

const bramble = wiringOf('bramble-siding');

/** What the panel shows: lit lamps, and the sign in which each drive is fed (0: not at all). */
function shown(wiring: Wiring, levers: Positions, codes: readonly string[] = []) {
  const faults = codes.map((code) => {
    const fault = faultByCode(wiring, code);
    if (fault === null) throw new Error(`no fault ${code}`);
    return fault;
  });
  const reading = operate(wiring, levers, faults);
  return {
    lit: reading.lamps.filter(({ look }) => look !== 'unlit').map(({ id }) => id),
    drives: Object.fromEntries(reading.drives.map(({ point, volts }) => [point, Math.sign(Math.round(volts))])),
    reading,
  };
}

const healthy = shown(bramble, {});
/** Of Bramble Siding, from its plan: L1 normal lights the main line, reverse the loop; L2 normal the main line, reverse the siding. */
const MAIN = ['H1', 'H2', 'H3', 'H4'];
const LOOP = ['H5', 'H6', 'H7', 'H8'];
const SIDING = ['H11', 'H12'];
const PAST_SIDING = ['H9', 'H10'];

describe('what the wiring can have', () => {
  it('[WF1] every code once, each row of the file format for each part that the panel has', () => {
    const codes = faultsOf(bramble).map(({ code }) => code);
    expect(new Set(codes).size).toBe(codes.length);
    const count = (pattern: RegExp) => codes.filter((code) => pattern.test(code)).length;
    expect(count(/^open:W\d+$/)).toBe(bramble.wires.length);
    expect(count(/^dry:W\d+$/)).toBe(bramble.wires.length);
    // Two levers of two poles each.
    expect(count(/^open:L\d\.\d$/)).toBe(4);
    expect(count(/^weld:L\d\.\d=(normal|reverse)$/)).toBe(8);
    expect(count(/^bridge:/)).toBe(4);
    expect(codes.filter((code) => code.startsWith('upside:'))).toEqual(['upside:L1', 'upside:L2']);
    expect(count(/^(open|short|backwards):H\d+$/)).toBe(3 * 12);
    // Twelve lamps in six pairs, one resistor each.
    expect(count(/^value:R-/)).toBe(12);
    expect(codes.filter((code) => /:P1\b/.test(code))).toEqual([
      'open:P1',
      'short:P1',
      'crossed:P1',
      'stuck:P1=normal',
      'stuck:P1=reverse',
      'linkage:P1',
    ]);
    expect(codes.filter((code) => /S1/.test(code))).toEqual(['off:S1', 'low:S1', 'high:S1', 'open:FU-S1']);
  });

  it('[WF2] neighbours of a nine-way shell are those of its row and the two below or above', () => {
    // Reference 15b: five over four, so way 1 has 2 and 6 beside it, way 7 has 2, 3, 6 and 8.
    const pins = bramble.connectors[0]?.pins.map(({ number }) => number) ?? [];
    const shorts = faultsOf(bramble).flatMap(({ code }) => /^short:A\.(\d),A\.(\d)$/.exec(code)?.slice(1) ?? []);
    const pairs: string[] = [];
    for (let i = 0; i < shorts.length; i += 2) pairs.push(`${shorts[i]}-${shorts[i + 1]}`);
    const beside = [
      '1-2',
      '2-3',
      '3-4',
      '4-5',
      '6-7',
      '7-8',
      '8-9',
      '1-6',
      '2-6',
      '2-7',
      '3-7',
      '3-8',
      '4-8',
      '4-9',
      '5-9',
    ];
    const used = beside.filter((pair) => pair.split('-').some((way) => pins.includes(Number(way))));
    expect([...pairs].sort()).toEqual([...used].sort());
  });

  it('[WF3] codes may be written otherwise: pins in either order, a resistor of any value, the second point of a drive', () => {
    expect(faultByCode(bramble, 'short:A.2,A.1')?.code).toBe('short:A.1,A.2');
    expect(faultByCode(bramble, 'value:R-G1=123')?.edits).toEqual([{ do: 'ohms', element: 'R-G1', ohms: 123 }]);
    for (const code of ['value:R-G1=0', 'value:R-G99=100', 'open:W999', 'melted:H1', 'short:A.1,A.5', '', ':', 'open:'])
      expect(faultByCode(bramble, code)).toBeNull();
    const shared = wiringOf('bramble-siding', (file) => {
      file.points = [
        { id: 'P1', at: [60, 58], drive: 'D1' },
        { id: 'P2', at: [240, 58], drive: 'D1' },
        { id: 'P3', at: [122, 58], drive: 'D3' },
      ];
    });
    expect(faultByCode(shared, 'stuck:P2=normal')?.code).toBe('stuck:P1=normal');
    expect(faultByCode(shared, 'linkage:P2')?.code).toBe('linkage:P2');
  });
});

describe('what faults do', () => {
  it('[WF4] nothing is broken in the healthy panel', () => {
    expect(healthy.lit).toEqual([...MAIN, ...PAST_SIDING]);
    expect(healthy.drives).toEqual({ P1: 1, P2: 1, P3: 1 });
  });

  it('[WF5] an open fuse, a supply that is off, a connector apart', () => {
    for (const code of ['open:FU-S1', 'off:S1'])
      expect(shown(bramble, {}, [code])).toMatchObject({ lit: [], drives: { P1: 0, P2: 0, P3: 0 } });
    expect(shown(bramble, {}, ['off:S1']).reading.supplies).toEqual([{ id: 'S1', volts: 0, amps: 0 }]);
    expect(shown(bramble, {}, ['open:FU-S1']).reading.supplies).toEqual([{ id: 'S1', volts: 9, amps: 0 }]);
    // Lamps hang on the panel's side of the plug and stay lit.
    expect(shown(bramble, {}, ['apart:A'])).toMatchObject({ lit: healthy.lit, drives: { P1: 0, P2: 0, P3: 0 } });
  });

  it('[WF6] a pole that stays welded leaves both wires of the drives on one rail in the other position', () => {
    for (const pole of ['L1.1', 'L1.2']) {
      expect(shown(bramble, {}, [`weld:${pole}=normal`]).lit).toEqual(healthy.lit);
      const thrown = shown(bramble, { L1: 'reverse' }, [`weld:${pole}=normal`]);
      expect(thrown).toMatchObject({ lit: PAST_SIDING, drives: { P1: 0, P2: 0, P3: 1 } });
      expect(thrown.reading.problems).toEqual([]);
    }
  });

  it('[WF7] outer tags bridged are a dead short, and the supply is lost to all its levers', () => {
    const short = shown(bramble, { L2: 'reverse' }, ['bridge:L1.1']);
    expect(short).toMatchObject({ lit: [], drives: { P1: 0, P2: 0, P3: 0 } });
    expect(short.reading.problems.map(({ code }) => code)).toEqual(['source-shorted']);
    expect(short.reading.supplies[0]?.volts).toBe(0);
  });

  it('[WF8] a switch upside down asks the other lie and lights it', () => {
    expect(shown(bramble, {}, ['upside:L1'])).toMatchObject({
      lit: [...LOOP, ...PAST_SIDING],
      drives: { P1: -1, P2: -1, P3: 1 },
    });
  });

  it('[WF9] two pins of one drive swapped throw its point the other way and the lamps do not know', () => {
    const [plus, minus] = bramble.connectors[0]?.pins.filter(({ to }) => to.startsWith('D3.')) ?? [];
    if (plus === undefined || minus === undefined) throw new Error('D3 has no pins');
    const swapped = shown(bramble, {}, [`swapped:${plus.id},${minus.id}`]);
    expect(swapped).toMatchObject({ lit: healthy.lit, drives: { P1: 1, P2: 1, P3: -1 } });
    const levered = shown(bramble, { L2: 'reverse' }, [`swapped:${plus.id},${minus.id}`]);
    expect(levered).toMatchObject({ lit: [...MAIN, ...SIDING], drives: { P1: 1, P2: 1, P3: 1 } });
  });

  it('[WF10] a wire on the next free pin leads nowhere', () => {
    const moved = faultsOf(bramble).filter(({ code }) => code.startsWith('moved:'));
    expect(moved.length).toBeGreaterThan(0);
    for (const { code } of moved) {
      const point = { D1: 'P1', D2: 'P2', D3: 'P3' }[
        bramble.connectors[0]?.pins.find(({ id }) => code.startsWith(`moved:${id},`))?.to.slice(0, 2) ?? ''
      ];
      const { lit, drives } = shown(bramble, {}, [code]);
      expect({ code, lit, drives }).toEqual({
        code,
        lit: healthy.lit,
        drives: { P1: 1, P2: 1, P3: 1, [point ?? '']: 0 },
      });
    }
  });

  it('[WF11] a lamp open, shorted or backwards', () => {
    const group = bramble.lamps.find(({ id }) => id === 'H1')?.group;
    const partner = bramble.lamps.find(({ id, group: of }) => of === group && id !== 'H1')?.id ?? '';
    expect(shown(bramble, {}, ['open:H1']).lit).toEqual(['H2', 'H3', 'H4', ...PAST_SIDING]);
    // Across its partner lies 0 V both ways.
    const short = shown(bramble, {}, ['short:H1']);
    expect(short.lit).toEqual(['H2', 'H3', 'H4', ...PAST_SIDING]);
    // 9 V behind the resistor of the pair: by Ohm's law alone.
    const ohms = bramble.resistors.find((resistor) => resistor.group === group)?.ohms ?? Number.NaN;
    expect(short.reading.lamps.find(({ id }) => id === 'H1')?.amps).toBeCloseTo(9 / ohms, 9);
    expect(shown(bramble, { L1: 'reverse' }, ['short:H1']).lit).not.toContain(partner);
    const backwards = shown(bramble, {}, ['backwards:H1']);
    expect(backwards.lit).toEqual(['H2', 'H3', 'H4', ...PAST_SIDING]);
    expect(shown(bramble, { L1: 'reverse' }, ['backwards:H1']).lit).toContain('H1');
  });

  it('[WF12] a resistor of ten times its ohms gives about a tenth of the current', () => {
    const resistor = bramble.resistors[0];
    if (resistor === undefined) throw new Error('no resistor');
    const lamp = bramble.lamps.find(({ group, lie }) => group === resistor.group && lie === 'normal')?.id ?? '';
    const ampsOf = (codes: readonly string[]) =>
      shown(bramble, {}, codes).reading.lamps.find(({ id }) => id === lamp)?.amps ?? Number.NaN;
    const ratio = ampsOf([]) / ampsOf([`value:${resistor.id}=${resistor.ohms * 10}`]);
    expect(ratio).toBeGreaterThan(9);
    expect(ratio).toBeLessThan(11);
  });

  it('[WF13] a drive that cuts itself off draws its running current when it is stuck, and only when asked to leave', () => {
    const wiring = wiringOf('bramble-siding', (file) => {
      file.drives = [{ id: 'D1', part: 'limit-2-wire' }];
      file.points = [{ id: 'P1', at: [60, 58], drive: 'D1' }];
      file.levers = [{ id: 'L1', works: [{ point: 'P1' }] }];
    });
    const ampsOf = (levers: Positions) =>
      shown(wiring, levers, ['stuck:P1=normal']).reading.drives.find(({ point }) => point === 'P1')?.amps ?? Number.NaN;
    expect(ampsOf({})).toBe(0);
    // The file format: a limit-switched drive runs at 0.12 A; the wires take little of it.
    expect(Math.abs(ampsOf({ L1: 'reverse' }))).toBeGreaterThan(0.11);
    expect(Math.abs(ampsOf({ L1: 'reverse' }))).toBeLessThanOrEqual(0.12);
  });

  it('[WF14] pins of two levers shorted let one feed the other', () => {
    const between = faultsOf(bramble).filter(
      ({ code, circuits }) => code.startsWith('short:') && circuits.length === 2,
    );
    expect(between.length).toBeGreaterThan(0);
    for (const { code } of between) {
      const { reading } = shown(bramble, { L1: 'normal', L2: 'reverse' }, [code]);
      expect(reading.residual).toBeLessThan(1e-9);
    }
  });

  it('[WF15] shells mated crosswise feed the drives of the other shell', () => {
    const wiring = wiringOf('bramble-siding', (file) => {
      file.connectors = [
        { id: 'A', part: 'dsub-9', panelHalf: 'socket', pins: { 1: 'D1.a', 2: 'D1.b', 3: 'D2.a', 4: 'D2.b' } },
        { id: 'B', part: 'dsub-9', panelHalf: 'socket', pins: { 1: 'D3.a', 2: 'D3.b' } },
      ];
    });
    const ends = (to: string) => wiring.connectors.flatMap(({ pins }) => pins).find((pin) => pin.to === to)?.id;
    expect([ends('D1.a'), ends('D3.a'), ends('D2.a')]).toEqual(['A.1', 'B.1', 'A.3']);
    const mated = shown(wiring, { L1: 'reverse' }, ['mated:A,B']);
    // D3 gets what D1 got, D1 what D3 got (L2 is normal), D2 nothing.
    expect(mated.drives).toEqual({ P1: 1, P2: 0, P3: -1 });
  });
});
