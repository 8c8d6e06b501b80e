import { expect, it } from 'vitest';
import { stageOfKey } from './stage-keys.ts';

const press = (key: string, more: object = {}) => ({
  key,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  target: null,
  ...more,
});

it('goes to the stages that are there', () => {
  expect(['1', '2', '3', '4', '5', '6', '7', 'a'].map((key) => stageOfKey(press(key), true))).toEqual([
    'lay',
    'work',
    'wire',
    null,
    null,
    'run',
    null,
    null,
  ]);
});

it('goes nowhere with another key held, in a field, or where single keys are off', () => {
  for (const more of [{ ctrlKey: true }, { metaKey: true }, { altKey: true }, { target: { tagName: 'INPUT' } }])
    expect(stageOfKey(press('1', more), true)).toBeNull();
  expect(stageOfKey(press('1'), false)).toBeNull();
});
