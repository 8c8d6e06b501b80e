import type { Remote } from 'comlink';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { sample } from './run/sample.ts';
import { makeStore, pickedRoute } from './store.ts';
import type { Core, View, ViewReading } from './worker/types.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

/** A worker that answers when it is told to. */
function fakeCore(view: View = sample) {
  const waiting: ((reading: ViewReading) => void)[] = [];
  const core = {
    open: vi.fn<(text: string) => Promise<ReturnType<Core['open']>>>(async (text) =>
      text === 'bad' ? { ok: false, problems: [{ path: 'strips', message: 'missing' }] } : { ok: true, view },
    ),
    operate: vi.fn(() => new Promise<ViewReading>((done) => waiting.push(done))),
    findings: vi.fn(async () => []),
  };
  return { core: core as unknown as Remote<Core>, calls: core, waiting };
}
const start = { lights: 'up', down: false } as const;
const reading = (on: string): ViewReading => ({ levers: {}, looks: { [on]: 'good' }, amps: {}, unsolved: false });

describe('opening', () => {
  it('shows a panel, and its findings after a while', async () => {
    const { core, calls } = fakeCore();
    const store = makeStore(core, start);
    await store.getState().open('a.json', '{}', 'own');
    expect(store.getState()).toMatchObject({ view: sample, file: 'a.json', source: 'own', findings: null });
    await vi.runAllTimersAsync();
    expect(store.getState().findings).toEqual([]);
    expect(calls.findings).toHaveBeenCalledTimes(1);
  });
  it('checks only once the hands are still', async () => {
    const { core, calls } = fakeCore();
    const store = makeStore(core, start);
    await store.getState().open('a.json', '{}', 'own');
    for (let i = 0; i < 5; i++) {
      await vi.advanceTimersByTimeAsync(300);
      store.getState().throwLevers({ L1: i % 2 === 0 ? 'reverse' : 'normal' });
    }
    expect(calls.findings).not.toHaveBeenCalled();
    await vi.advanceTimersByTimeAsync(1000);
    expect(calls.findings).toHaveBeenCalledTimes(1);
  });
  it('leaves everything as it is for a file that cannot be used', async () => {
    const { core } = fakeCore();
    const store = makeStore(core, start);
    await store.getState().open('a.json', '{}', 'own');
    store.getState().throwLevers({ L1: 'reverse' });
    await store.getState().open('b.json', 'bad', 'own');
    expect(store.getState()).toMatchObject({ view: sample, file: 'a.json', levers: { L1: 'reverse' } });
    expect(store.getState().trouble).toMatchObject({ file: 'b.json', problems: [{ path: 'strips' }] });
    store.getState().forgive();
    expect(store.getState().trouble).toBe(null);
  });
  it('keeps levers and the picked route where the served file is read again', async () => {
    const { core } = fakeCore();
    const store = makeStore(core, start);
    await store.getState().open('a.json', '{}', 'served');
    store.getState().pickFrom('a');
    store.getState().pickTo('s');
    store.getState().throwLevers({ L1: 'reverse', L3: 'centre' });
    await store.getState().open('a.json', '{ }', 'served');
    expect(store.getState()).toMatchObject({ from: 'a', to: 's', levers: { L1: 'reverse', L3: 'centre' } });
    await store.getState().open('other.json', '{ }', 'own');
    expect(store.getState()).toMatchObject({ from: null, to: null, levers: {} });
  });
  it('says what the program said where it failed', async () => {
    const { core, calls } = fakeCore();
    calls.open.mockRejectedValueOnce(new RangeError('node 12 of 9'));
    const store = makeStore(core, start);
    await store.getState().open('a.json', '{}', 'own');
    expect(store.getState().trouble?.fault).toBe('RangeError: node 12 of 9');
  });
});

describe('throwing', () => {
  it('shows the lamps of the last throw alone', async () => {
    const { core, waiting } = fakeCore();
    const store = makeStore(core, start);
    await store.getState().open('a.json', '{}', 'own');
    store.getState().throwLevers({ L1: 'reverse' });
    store.getState().throwLevers({ L2: 'reverse' });
    expect(store.getState().levers).toEqual({ L1: 'reverse', L2: 'reverse' });
    waiting[1]?.(reading('H3'));
    await vi.runAllTimersAsync();
    waiting[0]?.(reading('H2'));
    await vi.runAllTimersAsync();
    expect(store.getState().reading?.looks).toEqual({ H3: 'good' });
    expect(store.getState().news).toBe('L2 reverse. Lit: Siding. Dark: Main.');
  });
});

describe('picking', () => {
  it('keeps To where From still leads to it', async () => {
    const { core } = fakeCore();
    const store = makeStore(core, start);
    await store.getState().open('a.json', '{}', 'own');
    const { pickFrom, pickTo, pickWay, swap, pickRoute, clearRoute } = store.getState();
    pickFrom('a');
    pickTo('b');
    pickWay(1);
    expect(pickedRoute(store.getState())?.index).toBe(1);
    swap();
    expect(pickedRoute(store.getState())).toMatchObject({ index: 1, backwards: true });
    pickFrom('s');
    expect(store.getState()).toMatchObject({ to: 'a', way: 0 });
    pickRoute(1);
    expect(pickedRoute(store.getState())?.index).toBe(1);
    clearRoute();
    expect(pickedRoute(store.getState())).toBe(null);
  });
});
