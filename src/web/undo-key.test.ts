import { expect, it } from 'vitest';
import type { LayStore } from './lay/lay-store.ts';
import { undoKey } from './undo-key.ts';

/** What a key does, pressed with Control on such a target: what is called, or null where the key is not ours. */
function doneBy(key: string, target: object | null = null, more: object = {}): string | null {
  let done: string | null = null;
  const calls = {
    undo: () => {
      done = 'undo';
    },
    redo: () => {
      done = 'redo';
    },
  };
  const store = { getState: () => calls } as unknown as LayStore;
  const pressed = { key, ctrlKey: true, metaKey: false, shiftKey: false, altKey: false, target, ...more };
  const isOurs = undoKey(store, pressed as Parameters<typeof undoKey>[1]);
  return isOurs ? done : null;
}

const KEYS = [
  ['z', {}, 'undo'],
  ['Z', { shiftKey: true }, 'redo'],
  ['y', {}, 'redo'],
  ['z', { ctrlKey: false, metaKey: true }, 'undo'],
] as const;

it('undoes and redoes wherever nothing is typed', () => {
  const targets = [
    null,
    { tagName: 'BUTTON' },
    { tagName: 'SELECT' },
    { tagName: 'INPUT', type: 'radio' },
    { tagName: 'INPUT', type: 'checkbox' },
    { tagName: 'INPUT', type: 'text', dataset: { taken: '' } },
  ];
  for (const target of targets) for (const [key, more, done] of KEYS) expect(doneBy(key, target, more)).toBe(done);
});

it('leaves to text that is typed its own undo', () => {
  const targets = [
    { tagName: 'INPUT' },
    { tagName: 'INPUT', type: 'text', dataset: {} },
    { tagName: 'INPUT', type: 'search' },
    { tagName: 'TEXTAREA' },
    { tagName: 'DIV', isContentEditable: true },
  ];
  for (const target of targets) for (const [key, more] of KEYS) expect(doneBy(key, target, more)).toBeNull();
});

it('leaves other keys, and those with Alt, alone', () => {
  expect(doneBy('x')).toBeNull();
  expect(doneBy('z', null, { ctrlKey: false })).toBeNull();
  expect(doneBy('z', null, { altKey: true })).toBeNull();
});
