import { describe, expect, it } from 'vitest';
import { printTracks, tracks } from '../../tests/generate/tracks.ts';
import { applyTransaction, type PanelFile, type Transaction } from '../panel/index.ts';
import {
  addCorner,
  deleteStrips,
  joinStrips,
  moveCorner,
  moveStrips,
  removeCorner,
  reverseStrip,
  splitStrip,
} from './index.ts';

function laid(panel: PanelFile, tx: Transaction | null): string {
  return tx === null ? 'no edit' : printTracks(applyTransaction(panel, tx));
}

describe('edits of strips', () => {
  const one = tracks('a 0,0 100,0 100,50');

  it('[ST1] moved and bent', () => {
    expect(laid(one, moveStrips(one, ['a'], [5, -5]))).toBe('a 5,-5 105,-5 105,45');
    expect(laid(one, moveStrips(one, ['a'], [0, 0]))).toBe('no edit');
    expect(laid(one, moveCorner(one, 'a', 2, [120, 40]))).toBe('a 0,0 100,0 120,40');
    expect(laid(one, addCorner(one, 'a', 0, [-20, 0]))).toBe('a -20,0 0,0 100,0 100,50');
    expect(laid(one, addCorner(one, 'a', 3, [100, 90]))).toBe('a 0,0 100,0 100,50 100,90');
    expect(laid(one, removeCorner(one, 'a', 1))).toBe('a 0,0 100,50');
    const two = tracks('a 0,0 100,0');
    expect(laid(two, removeCorner(two, 'a', 1))).toBe('no edit');
    expect(laid(one, reverseStrip(one, 'a'))).toBe('a 100,50 100,0 0,0');
    expect(laid(one, deleteStrips(one, ['a']))).toBe('');
  });

  it('[ST1] split at the nearest spot, on a corner where it lies there, and not within its own seam', () => {
    expect(laid(one, splitStrip(one, 'a', [40, 3]))).toBe('a 0,0 40,0\na-1 40,0 100,0 100,50');
    expect(laid(one, splitStrip(one, 'a', [101, -1]))).toBe('a 0,0 100,0\na-1 100,0 100,50');
    expect(laid(one, splitStrip(one, 'a', [2, 0]))).toBe('no edit');
    expect(laid(one, splitStrip(one, 'a', [100, 49]))).toBe('no edit');
  });

  it.each([
    ['b 100,0 200,0', 'a 0,0 100,0 200,0'],
    ['b 200,0 100,0', 'a 0,0 100,0 200,0'],
    ['b -90,0 0,0', 'a -90,0 0,0 100,0'],
    ['b 0,0 -90,0', 'a -90,0 0,0 100,0'],
    ['b 102,0 200,0', 'a 0,0 100,0 102,0 200,0'],
    ['b 103,0 200,0', 'no edit'],
  ])('[ST1] joined end to end whichever way they lie: %s', (b, joined) => {
    const panel = tracks(`a 0,0 100,0\n${b}`);
    expect(laid(panel, joinStrips(panel, 'a', 'b'))).toBe(joined);
  });

  it('[ST1] lengths on the layout are shared out by length and added up', () => {
    const panel = tracks('a 0,0 100,0 layoutLength=1000\nb 100,0 200,0 layoutLength=500\nc 200,0 300,0');
    const split = applyTransaction(panel, splitStrip(panel, 'a', [25, 0]) ?? { name: 'none', changes: [] });
    expect(split.strips.map((strip) => strip.layoutLength)).toEqual([250, 750, 500, undefined]);
    const joined = applyTransaction(panel, joinStrips(panel, 'a', 'b') ?? { name: 'none', changes: [] });
    expect(joined.strips.map((strip) => strip.layoutLength)).toEqual([1500, undefined]);
    const unknown = applyTransaction(panel, joinStrips(panel, 'b', 'c') ?? { name: 'none', changes: [] });
    expect(unknown.strips.map((strip) => 'layoutLength' in strip)).toEqual([true, false]);
  });

  it('[ST1] a strip that is not there is a fault, with its name', () => {
    expect(() => moveStrips(one, ['b'], [1, 0])).toThrow('no strip b');
    expect(() => moveCorner(one, 'a', 3, [0, 0])).toThrow('no corner 3');
    expect(() => addCorner(one, 'a', 5, [0, 0])).toThrow('no room for one at 5');
  });
});
