import { describe, expect, it } from 'vitest';
import { budgetContacts, type ContactUse } from './budget.ts';

const frog = (id: string, contact: string | null, shares?: string): ContactUse => ({
  drive: 'D1',
  contact,
  kind: 'frog',
  id,
  ...(shares === undefined ? {} : { shares }),
});
const one = (has: number, uses: readonly ContactUse[]) => {
  const [budget] = budgetContacts([{ id: 'D1', contacts: has }], uses);
  if (budget === undefined) throw new Error('no budget');
  return budget;
};

/** The trade: contacts a drive has, less one for each frog it feeds, less one for each lamp root. */
describe('budgetContacts', () => {
  it('[CO8] a drive of two contacts feeds a frog and one root of lamps, and nothing is left', () => {
    const budget = one(2, [frog('F1', 'D1.c1'), { drive: 'D1', contact: 'D1.c2', kind: 'lamps', id: 'D1.c2' }]);
    expect(budget).toMatchObject({ has: 2, frogs: 1, lamps: 1, needs: 2, left: 0, free: [], without: [] });
  });

  it('[CO8] a crossover on one drive owes two frogs: with lamps it is overdrawn by one', () => {
    const lamps: ContactUse = { drive: 'D1', contact: 'D1.c2', kind: 'lamps', id: 'D1.c2' };
    const budget = one(2, [frog('F1', 'D1.c1'), frog('F2', null), lamps]);
    expect(budget).toMatchObject({ frogs: 2, lamps: 1, needs: 3, left: -1, without: ['F2'] });
  });

  it('[CO8] frogs that one contact serves count once, with a contact and without', () => {
    expect(one(2, [frog('F1', 'D1.c1'), frog('F2', 'D1.c1')])).toMatchObject({ frogs: 1, needs: 1, free: ['D1.c2'] });
    expect(one(0, [frog('F1', null, 'a'), frog('F2', null, 'a'), frog('F3', null, 'b')])).toMatchObject({
      frogs: 2,
      needs: 2,
      left: -2,
      without: ['F1', 'F2', 'F3'],
    });
  });

  it('[CO8] a contact with two things on it counts once in all, and every drive has a budget', () => {
    const uses: ContactUse[] = [frog('F1', 'D1.c1'), { drive: 'D1', contact: 'D1.c1', kind: 'other', id: 'bell' }];
    expect(one(2, uses)).toMatchObject({ frogs: 1, other: 1, needs: 1, left: 1 });
    expect(budgetContacts([{ id: 'D2', contacts: 1 }], uses)).toEqual([
      { drive: 'D2', has: 1, frogs: 0, lamps: 0, other: 0, needs: 0, left: 1, free: ['D2.c1'], without: [] },
    ]);
  });
});
