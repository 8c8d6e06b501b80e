import { describe, expect, it } from 'vitest';
import { applyTransaction, checkPanel, type PanelFile, type Transaction } from '../panel/index.ts';
import { putCornerFixings, putTitle, setFace, setPanelName, titleOf } from './sheet.ts';

const bare: PanelFile = { format: 'mimic-panel', version: 1, strips: [] };
const edited = (panel: PanelFile, tx: Transaction | null): PanelFile => {
  const next = tx === null ? panel : applyTransaction(panel, tx);
  expect(checkPanel(next).ok).toBe(true);
  return next;
};

describe('edits of the panel itself', () => {
  it('sets a name and takes it out', () => {
    const named = edited(bare, setPanelName(bare, 'Bramble Siding'));
    expect(named.name).toBe('Bramble Siding');
    expect(setPanelName(named, 'Bramble Siding')).toBeNull();
    expect('name' in edited(named, setPanelName(named, undefined))).toBe(false);
  });
  it('sets figures of the sheet, keeps the others, and leaves no empty record', () => {
    const wide = edited(bare, setFace(bare, { width: 600 }));
    const both = edited(wide, setFace(wide, { colour: 'cream' }));
    expect(both.face).toEqual({ width: 600, colour: 'cream' });
    expect(setFace(both, { width: 600, colour: 'cream' })).toBeNull();
    expect('face' in edited(wide, setFace(wide, { width: undefined }))).toBe(false);
  });
  it('puts a screw hole in each corner that has none', () => {
    const four = edited(bare, putCornerFixings(bare, 600, 300));
    expect(four.face?.fixings?.map(({ at }) => at)).toEqual([
      [9, 9],
      [591, 9],
      [9, 291],
      [591, 291],
    ]);
    expect(putCornerFixings(four, 600, 300)).toBeNull();
    const one = { ...bare, face: { fixings: [{ at: [8, 8] as [number, number], drill: 4 }] } };
    expect(edited(one, putCornerFixings(one, 600, 300)).face?.fixings).toHaveLength(4);
  });
  it('puts a title plate once there is a name, and finds it', () => {
    expect(putTitle(bare, 600, 300)).toBeNull();
    const named = { ...bare, name: 'Bramble Siding' };
    const titled = edited(named, putTitle(named, 600, 300));
    expect(titled.plates).toEqual([{ at: [300, 276], text: 'BRAMBLE SIDING' }]);
    expect([titleOf(named), titleOf(titled)]).toEqual([null, 0]);
  });
});
