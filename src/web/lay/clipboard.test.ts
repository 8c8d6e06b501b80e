import { describe, expect, it } from 'vitest';
import { copyThings } from '../../laying/index.ts';
import type { PanelFile } from '../../panel/index.ts';
import { makeDocument } from '../document/document.ts';
import { beginHistory } from '../document/history.ts';
import {
  clipOf,
  countsOf,
  droppedPairs,
  duplicatePicked,
  everything,
  listenToClipboard,
  pastedBy,
} from './clipboard.ts';
import { type LayStore, makeLayStore } from './lay-store.ts';

const PANEL: PanelFile = {
  format: 'mimic-panel',
  version: 1,
  face: { width: 400, height: 200 },
  strips: [
    {
      id: 'main',
      path: [
        [20, 60],
        [380, 60],
      ],
    },
    {
      id: 'loop',
      path: [
        [100, 60],
        [148, 90],
        [252, 90],
        [300, 60],
      ],
    },
  ],
  lamps: [{ id: 'H1', at: [200, 60], shows: {} }],
  plates: [{ at: [200, 20], text: 'Bramble Siding' }],
};

/** The stage without a worker: what is read of the panel stays out. */
function stage(panel: PanelFile = PANEL): LayStore {
  const document = makeDocument(beginHistory(panel), { now: () => 0 });
  const never = new Proxy({}, { get: () => () => new Promise(() => {}) });
  return makeLayStore(document, never as never, () => ({ on: () => {} }));
}

/** A document that only tells of its clipboard; between two of them goes what a system's clipboard holds. */
function clipboard(store: LayStore, system: { text: string }) {
  const target = new EventTarget();
  listenToClipboard(store, Object.assign(target, { getSelection: () => null }) as unknown as Document);
  return (kind: 'copy' | 'cut' | 'paste'): Event => {
    const event = Object.assign(new Event(kind, { cancelable: true }), {
      clipboardData: {
        setData: (_: string, text: string) => {
          system.text = text;
        },
        getData: () => system.text,
      },
    });
    target.dispatchEvent(event);
    return event;
  };
}

describe('the clipboard', () => {
  it('carries what is picked from one panel to another, picked there, as one step', () => {
    const system = { text: '' };
    const [one, other] = [stage(), stage({ ...PANEL, strips: [], lamps: [], plates: [] })];
    one.getState().pick([{ list: 'strips', id: 'loop' }]);
    expect(clipboard(one, system)('copy').defaultPrevented).toBe(true);
    clipboard(other, system)('paste');
    const { panel, picked, undo, undoes } = other.getState();
    expect(panel.strips.map(({ path }) => path)).toEqual([
      [
        [110, 70],
        [158, 100],
        [262, 100],
        [310, 70],
      ],
    ]);
    expect(picked).toEqual([{ list: 'strips', id: panel.strips[0]?.id }]);
    expect(undoes?.name).toBe('clip.paste');
    undo();
    expect(other.getState().panel.strips).toEqual([]);
  });

  it('pastes each time further off, and under the pointer where there is one', () => {
    const system = { text: '' };
    const store = stage();
    const does = clipboard(store, system);
    store.getState().pick([{ list: 'lamps', id: 'H1' }]);
    does('copy');
    does('paste');
    does('paste');
    store.getState().point([40.6, 101.2]);
    does('paste');
    expect(store.getState().panel.lamps?.map(({ at }) => at)).toEqual([
      [200, 60],
      [210, 70],
      [220, 80],
      [40, 102],
    ]);
  });

  it('cuts: what was picked is off the sheet and on the clipboard', () => {
    const system = { text: '' };
    const store = stage();
    store.getState().pick([{ list: 'plates', id: 0 }]);
    clipboard(store, system)('cut');
    expect(store.getState().panel.plates ?? []).toEqual([]);
    expect(clipOf(system.text)?.records.plates).toEqual(PANEL.plates);
  });

  it('says so where there is nothing of a panel on it, and changes nothing', () => {
    const store = stage();
    clipboard(store, { text: '{"format":"other"}' })('paste');
    expect(store.getState().panel).toBe(PANEL);
    expect(store.getState().note).toMatch(/^Nothing of a panel/);
  });

  it('copies nothing where nothing is picked: the browser does as it would', () => {
    const system = { text: 'before' };
    expect(clipboard(stage(), system)('copy').defaultPrevented).toBe(false);
    expect(system.text).toBe('before');
  });

  it('says what a pasted lever no longer works', () => {
    const system = { text: '' };
    const store = stage({ ...PANEL, levers: [{ id: 'L1', at: [50, 150], works: [{ point: 'P1' }] }] });
    store.getState().pick([{ list: 'levers', id: 'L1' }]);
    const does = clipboard(store, system);
    does('copy');
    does('paste');
    expect(store.getState().note).toBe('Pasted 1 lever. Left out, as it was not copied: P1 of L1');
  });
});

it('a corner that is picked stands for its strip', () => {
  const store = stage();
  store.getState().pick([
    { list: 'strips', id: 'main', part: 0 },
    { list: 'strips', id: 'main', part: 1 },
  ]);
  duplicatePicked(store);
  expect(store.getState().panel.strips).toHaveLength(3);
  expect(store.getState().note).toBe('Duplicated 1 strip');
});

it('everything is all that lies on the sheet, and off it', () => {
  const off: PanelFile = { ...PANEL, lamps: [{ id: 'H1', at: [-50, 900], shows: {} }] };
  expect(countsOf(everything(off, null))).toBe('2 strips, 1 lamp and 1 plate');
});

it('what was dropped is told once', () => {
  const twice = { of: 'L1', key: 'works', ref: 'P1' };
  expect(droppedPairs([twice, { ...twice, key: 'feed' }])).toEqual([['P1', 'L1']]);
});

it('a clip on the grid stays on it wherever the pointer is', () => {
  const clip = copyThings(PANEL, [{ list: 'lamps', id: 'H1' }]);
  const [x, y] = pastedBy(clip, [33.3, 77.7], 0);
  expect([Math.abs(x % 2), Math.abs(y % 2)]).toEqual([0, 0]);
});
