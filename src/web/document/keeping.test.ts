/** Where the work is kept, as the screen is told. */
import { describe, expect, it } from 'vitest';
import { askToPersist, keepingOf, remindsOfFile } from './keeping.ts';
import { hasSevenDayRule } from './surroundings.ts';

const facts = { trouble: null, gone: false, persisted: false, sevenDays: false, waiting: 0, atHand: true } as const;

describe('where the work is kept', () => {
  it.each([
    [{ persisted: true }, { kind: 'kept' }],
    [{}, { kind: 'kept-until', days: null }],
    [{ sevenDays: true }, { kind: 'kept-until', days: 7 }],
    [
      { trouble: 'full', persisted: true, waiting: 3 },
      { kind: 'full', waiting: 3 },
    ],
    [{ trouble: 'refused' }, { kind: 'memory' }],
    [
      { gone: true, trouble: 'full' },
      { kind: 'evicted', download: true },
    ],
  ] as const)('of %o is %o', (some, answer) => expect(keepingOf({ ...facts, ...some })).toMatchObject(answer));

  it('has seven days where scripts store for so long, and not where the application is installed (WebKit, 2020)', () => {
    expect(hasSevenDayRule('Apple Computer, Inc.', false)).toBe(true);
    expect(hasSevenDayRule('Apple Computer, Inc.', true)).toBe(false);
    expect(hasSevenDayRule('Google Inc.', false)).toBe(false);
  });

  it('is asked for once, and a browser that fails has not promised', async () => {
    let asked = 0;
    const storage = { persisted: async () => true, persist: async () => ++asked > 0 };
    expect([await askToPersist(storage), asked]).toEqual([true, 0]);
    expect(await askToPersist({ ...storage, persisted: async () => false })).toBe(true);
    const failing = { persisted: () => Promise.reject(new Error('no')), persist: async () => true };
    expect([await askToPersist(failing), await askToPersist(null)]).toEqual([false, false]);
  });

  it('reminds of a file after twenty edits or a day', () => {
    const day = 86_400_000;
    const at = (unsavedEdits: number, unsavedSince: number | null) =>
      remindsOfFile({ unsavedEdits, unsavedSince }, day);
    expect([at(0, null), at(19, 1), at(20, 1), at(1, 0)]).toEqual([false, false, true, true]);
  });
});
