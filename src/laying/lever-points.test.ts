import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { done } from '../../tests/generate/done.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import { type PanelFile, readPanel } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import { arrangeLevers, joinUnder, ownLever, partLever, putUnder, takeOffLevers } from './index.ts';

const open = (name: string): PanelFile => {
  const read = readPanel(readFileSync(new URL(`../../examples/${name}.mimic.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error('the example does not open');
  return read.panel;
};
const harbour = open('quillhaven-harbour');
const bare = tracks('main 0,60 300,60\nloop 60,60 90,85 210,85 240,60');

/** What each lever works: "P4 P5'", the mark for the other lie. */
function works(panel: PanelFile): Readonly<Record<string, string>> {
  return Object.fromEntries(
    readPlan(panel).levers.map(({ id, works: all }) => [
      id,
      all.map(({ point, whenNormal }) => (whenNormal === 'normal' ? point : `${point}'`)).join(' '),
    ]),
  );
}

describe('putUnder', () => {
  it('puts a point under another lever, and the lever that works nothing any more goes for good', () => {
    const after = done(harbour, putUnder(harbour, 'P3', 'L2'));
    expect(works(after)).toMatchObject({ L2: 'P2 P3' });
    expect(works(after).L3).toBeUndefined();
    expect(after.retired).toEqual(['L3']);
  });

  it('takes the other lie, and back, where the point is under it already', () => {
    const opposite = done(harbour, putUnder(harbour, 'P13', 'L10', true));
    expect(works(opposite).L10).toBe("P11 P13'");
    expect(works(done(opposite, putUnder(opposite, 'P13', 'L10')))).toEqual(works(harbour));
  });

  it('writes default levers down first', () => {
    const after = done(bare, putUnder(bare, 'P2', 'L1'));
    expect(works(after)).toEqual({ L1: 'P1 P2' });
    expect(after.levers).toEqual([{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2' }] }]);
  });

  it('is nothing where it is so already, or there is no such point or lever', () => {
    expect(putUnder(harbour, 'P13', 'L10')).toBe(null);
    expect(putUnder(bare, 'P1', 'L1')).toBe(null);
    expect(putUnder(harbour, 'P99', 'L10')).toBe(null);
    expect(putUnder(harbour, 'P13', 'L99')).toBe(null);
  });

  it('leaves a lever that works a section besides', () => {
    const panel: PanelFile = {
      ...bare,
      levers: [
        { id: 'L1', works: [{ point: 'P1' }, { section: 'T1' }] },
        { id: 'L2', works: [{ point: 'P2' }] },
      ],
    };
    const after = done(panel, putUnder(panel, 'P1', 'L2'));
    expect(after.levers).toEqual([
      { id: 'L1', works: [{ section: 'T1' }] },
      { id: 'L2', works: [{ point: 'P2' }, { point: 'P1' }] },
    ]);
  });

  it('leaves a point alone that a hand works', () => {
    const panel: PanelFile = { ...bare, points: [{ id: 'P1', at: [60, 60], drive: 'hand' }] };
    expect(putUnder(panel, 'P1', 'L2')).toBe(null);
    expect(ownLever(panel, 'P1')).toBe(null);
  });
});

describe('ownLever', () => {
  it('numbers it as its point where that is free, and stands it where the row has room', () => {
    const after = done(harbour, ownLever(harbour, 'P13'));
    expect(works(after)).toMatchObject({ L10: 'P11', L13: 'P13' });
    // The row of twelve fills the sheet of 600: 48 apart from 36 to 564.
    expect(after.levers?.find(({ id }) => id === 'L13')?.at).toBeUndefined();
  });

  it('takes the spot of a lever that has gone from the row', () => {
    const joined = done(harbour, joinUnder(harbour, { levers: ['L10', 'L11'], opposite: false }));
    const after = done(joined, ownLever(joined, 'P12'));
    // L11 is retired: its number is not given again, nor that of L12, which is there.
    expect(works(after)).toMatchObject({ L13: 'P12' });
    expect(after.levers?.find(({ id }) => id === 'L13')?.at).toEqual([516, 250]);
  });

  it('is nothing for a point that has one', () => {
    expect(ownLever(harbour, 'P1')).toBe(null);
    expect(ownLever(bare, 'P1')).toBe(null);
  });

  it('gives one to a point that nothing works', () => {
    const off = done(bare, takeOffLevers(bare, 'P1'));
    expect(works(off)).toEqual({ L2: 'P2' });
    expect(works(done(off, ownLever(off, 'P1')))).toEqual({ L2: 'P2', L3: 'P1' });
  });
});

describe('joinUnder and partLever', () => {
  it('joins two in the other lie, and what was opposite lies alike', () => {
    const turned = done(harbour, putUnder(harbour, 'P5', 'L4', true));
    const after = done(turned, joinUnder(turned, { levers: ['L1', 'L4'], opposite: true }));
    expect(works(after).L1).toBe("P1 P4' P5");
  });

  it('parts a lever of four into four', () => {
    const after = done(harbour, partLever(harbour, 'L12'));
    expect(works(after)).toMatchObject({ L12: 'P14', L15: 'P15', L16: 'P16', L17: 'P17' });
    expect(partLever(after, 'L12')).toBe(null);
  });

  it('takes the lever that goes out of its return', () => {
    const panel: PanelFile = { ...harbour, returns: [{ id: 'R0', supply: 'S1', levers: ['L2', 'L3'] }] };
    const after = done(panel, joinUnder(panel, { levers: ['L2', 'L3'], opposite: false }));
    expect(after.returns).toEqual([{ id: 'R0', supply: 'S1', levers: ['L2'] }]);
  });
});

describe('arrangeLevers', () => {
  it('gives every point a lever of its own, or puts them back together', () => {
    const points = readPlan(harbour).points.map(({ id }) => id);
    const single = done(
      harbour,
      arrangeLevers(
        harbour,
        points.map((id) => ({ [id]: 'normal' as const })),
      ),
    );
    expect(Object.values(works(single)).sort()).toEqual(points.map(String).sort());
    const groups = readPlan(harbour).levers.map(({ works: all }) =>
      Object.fromEntries(all.map(({ point, whenNormal }) => [point, whenNormal])),
    );
    expect(Object.values(works(done(single, arrangeLevers(single, groups)))).sort()).toEqual(
      Object.values(works(harbour)).sort(),
    );
    expect(arrangeLevers(harbour, groups)).toBe(null);
  });

  it('keeps how the lever lies for the first of a group', () => {
    const turned = done(bare, putUnder(bare, 'P1', 'L1', true));
    const after = done(turned, arrangeLevers(turned, [{ P1: 'normal', P2: 'reverse' }]));
    expect(works(after)).toEqual({ L1: "P1' P2" });
  });
});
