import { describe, expect, it } from 'vitest';
import type { LayFinding } from '../worker/types.ts';
import { alikeIn } from './alike.ts';

const finding = (id: string, message: string, more: Partial<LayFinding> = {}): LayFinding => ({
  code: 'lamp-point-unknown',
  severity: 'wrong',
  ids: [id],
  at: null,
  message,
  why: '',
  mends: [],
  ...more,
});
const shows = (lamp: string, point: string): LayFinding =>
  finding(lamp, `lamp ${lamp} shows ${point}, and there is no such point`);
/** First of each group, and how many more. */
const told = (findings: readonly LayFinding[]) =>
  alikeIn(findings).map(({ first, more }) => [first.ids[0], more.length]);

describe('findings that are alike', () => {
  it('are one by what is missing, and stand where the first stands', () => {
    const all = [
      shows('H1', 'P14'),
      shows('H2', 'P15'),
      shows('H3', 'P14'),
      shows('H4', 'P14'),
      shows('H5', 'P15'),
      shows('H6', 'P15'),
    ];
    expect(told(all)).toEqual([
      ['H1', 2],
      ['H2', 2],
    ]);
  });
  it('stay apart while they are two, or of another kind', () => {
    expect(told([shows('H1', 'P14'), shows('H2', 'P14')])).toEqual([
      ['H1', 0],
      ['H2', 0],
    ]);
    const other = finding('H3', 'lamp H3 shows P14, and there is no such point', { severity: 'caution' });
    expect(told([shows('H1', 'P14'), shows('H2', 'P14'), other]).map(([, more]) => more)).toEqual([0, 0, 0]);
  });
  it('may differ in figures, but not in names with figures in them', () => {
    const faint = (lamp: string, amps: string): LayFinding => finding(lamp, `${lamp} gets ${amps} mA of L4`);
    expect(told([faint('H1', '0.31'), faint('H2', '0.4'), faint('H30', '1')])).toEqual([['H1', 2]]);
  });
  it('are apart where each is a thing of its own', () => {
    const end = (n: number): LayFinding =>
      finding(`K${n}`, `an end of Strip ${n} has no name: routes start there as K${n}`);
    expect(told([1, 2, 3].map(end)).map(([, more]) => more)).toEqual([0, 0, 0]);
  });
  it('lose none', () => {
    const all = ['H1', 'H2', 'H3', 'H4'].map((id) => shows(id, 'P1'));
    expect(alikeIn(all).flatMap(({ first, more }) => [first, ...more])).toEqual(all);
    expect(alikeIn([])).toEqual([]);
  });
});
