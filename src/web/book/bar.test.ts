import { expect, it } from 'vitest';
import { BAR_RANGE } from '../../book/index.ts';
import { MEASURED, readBar } from './bar.ts';

it('takes what the book takes', () => {
  expect(MEASURED).toEqual(BAR_RANGE);
});

it.each([
  ['100', 100],
  [' 98.5 ', 98.5],
  ['101,2', 101.2],
  ['94.9', null],
  ['105.1', null],
  ['', null],
  ['wide', null],
  ['1e2x', null],
])('reads "%s" as %s', (typed, mm) => {
  expect(readBar(typed)).toBe(mm);
});
