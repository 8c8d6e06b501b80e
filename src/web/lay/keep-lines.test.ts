/** What is said of keeping, and what can be done about it. */
import { describe, expect, it } from 'vitest';
import type { KeptState } from '../document/index.ts';
import { linesOf } from './keep-lines.ts';

const CALM: KeptState = {
  role: 'editing',
  taken: false,
  promised: 'yes',
  keeping: { kind: 'kept', waiting: 0, download: true },
  durable: 9,
  file: null,
  changedSinceSave: true,
  unsavedEdits: 3,
  unsavedSince: 0,
  remind: false,
  aside: null,
  lostSteps: 0,
  stranded: [],
};
const said = (state: Partial<KeptState>, seen: Parameters<typeof linesOf>[1] = {}) =>
  linesOf({ ...CALM, ...state }, seen).map(({ line, deeds }) => [line, ...deeds].join(' '));
const textOf = (state: Partial<KeptState>) => linesOf({ ...CALM, ...state }, {}).map(({ text }) => text);

describe('what is said of keeping', () => {
  it('is nothing while all is well', () => {
    expect(said({})).toEqual([]);
    expect(said({ keeping: { kind: 'kept-until', days: 7, waiting: 2, download: true } })).toEqual([]);
  });

  it('tells a window that follows from one that has lost the panel, and both can take it', () => {
    expect(said({ role: 'following', remind: true, unsavedEdits: 20 })).toEqual(['role take-over']);
    expect(textOf({ role: 'following' })).not.toEqual(textOf({ role: 'following', taken: true }));
    expect(said({ role: 'handing-over', taken: true })).toEqual(['role']);
  });

  it('always offers a file where nothing is stored, and then asks for none a second time', () => {
    for (const kind of ['memory', 'full'] as const)
      expect(said({ keeping: { kind, waiting: 30, download: true }, remind: true, unsavedEdits: 30 })).toEqual([
        'storage save',
      ]);
    expect(said({ keeping: { kind: 'evicted', waiting: 1, download: true } })).toEqual(['storage save keep-again']);
  });

  it('says what was set aside, what is stranded and what steps are gone, until that is put away', () => {
    const state = {
      aside: { from: 4, to: 6, why: '' },
      lostSteps: 2,
      stranded: [{ edits: 1, text: '', kept: true }],
    };
    expect(said(state)).toEqual(['stranded give-stranded', 'aside save rescue', 'steps']);
    expect(textOf(state)[1]).toMatch(/^3 edits could not be read/);
    expect(said(state, { aside: 0, steps: 0, stranded: 1 })).toEqual([]);
    // More that is stranded is said anew; what is nowhere else cannot be put away.
    const more = { stranded: [...state.stranded, { edits: 2, text: '', kept: false }] };
    expect(said(more, { stranded: 1 })).toEqual(['stranded give-stranded']);
    expect(linesOf({ ...CALM, ...more }, {})[0]?.goes).toBe(false);
  });

  it('asks for a file once, and again after twenty edits more', () => {
    expect(said({ remind: true, unsavedEdits: 20 })).toEqual(['file save']);
    expect(said({ remind: true, unsavedEdits: 39 }, { file: 20 })).toEqual([]);
    expect(said({ remind: true, unsavedEdits: 40 }, { file: 20 })).toEqual(['file save']);
    // A day after a single edit.
    expect(said({ remind: true, unsavedEdits: 1 })).toEqual(['file save']);
    const days = { keeping: { kind: 'kept-until', days: 7, waiting: 0, download: true } } as const;
    expect(textOf({ remind: true, unsavedEdits: 1, ...days })[0]).toMatch(/is in no file.*delete it after 7 days/);
  });
});
