import type { Remote } from 'comlink';
import { describe, expect, it, vi } from 'vitest';
import { createStore } from 'zustand/vanilla';
import type { LayStore, Shown } from '../lay/lay-store.ts';
import type { Core } from '../worker/types.ts';
import type { WorkView } from '../worker/work-view.ts';
import { workKey } from './work-keys.ts';
import { workStoreOf } from './work-store.ts';

const shown = (number: number): Shown => ({ number }) as unknown as Shown;
const view = (...levers: readonly string[]): WorkView =>
  ({ levers: levers.map((id) => ({ id })), points: [{ id: 'P1', free: false }] }) as unknown as WorkView;

/** A desk with a worker that answers when it is told to. */
function desk() {
  const lay = createStore(() => ({ shown: null as Shown | null, undo: vi.fn(), redo: vi.fn() }));
  const answers = new Map<number, WorkView>();
  const asked: string[] = [];
  const core = {
    work: async (number: number) => {
      asked.push(`work ${number}`);
      return answers.get(number) ?? null;
    },
    workPiece: async (number: number, part: string) => {
      asked.push(`${part} ${number}`);
      return { part, routes: [] };
    },
    workRoute: async (number: number, route: number) => {
      asked.push(`route ${route} of ${number}`);
      return { route, path: [], beside: [] };
    },
  };
  const store = workStoreOf(lay as unknown as LayStore, core as unknown as Remote<Core>);
  return { lay, answers, asked, store, core };
}

const settle = () => new Promise((done) => setTimeout(done));

describe('what the stage holds', () => {
  it('asks who works what first, then piece by piece, and the picked route with the routes', async () => {
    const { lay, answers, asked, store } = desk();
    answers.set(1, view('L1', 'L2'));
    store.getState().look(4);
    const stop = store.getState().follow();
    lay.setState({ shown: shown(1) });
    await settle();
    expect(asked).toEqual(['work 1', 'routes 1', 'route 4 of 1', 'grouping 1', 'joins 1', 'current 1']);
    expect([...store.getState().fresh]).toEqual(['routes', 'grouping', 'joins', 'current']);
    expect(store.getState().line?.route).toBe(4);
    stop();
  });

  it('keeps what was told until there is more, and drops an answer about an earlier panel', async () => {
    const { lay, answers, store } = desk();
    answers.set(1, view('L1', 'L2')).set(3, view('L1'));
    const stop = store.getState().follow();
    lay.setState({ shown: shown(1) });
    await settle();
    store.getState().pick('L2');
    store.getState().hold('P1');
    // The worker has no answer for the second: another was laid meanwhile.
    lay.setState({ shown: shown(2) });
    lay.setState({ shown: shown(3) });
    expect(store.getState().view?.levers).toHaveLength(2);
    await settle();
    expect(store.getState().view?.levers).toHaveLength(1);
    // What is picked and no more there is let go; what is in the hand stays.
    expect([store.getState().picked, store.getState().held]).toEqual([null, 'P1']);
    stop();
  });

  it('is the same over the same panel, and asks nothing twice', async () => {
    const { lay, answers, asked, store, core } = desk();
    answers.set(1, view('L1'));
    const stop = store.getState().follow();
    lay.setState({ shown: shown(1) });
    await settle();
    stop();
    const before = asked.length;
    expect(workStoreOf(lay as unknown as LayStore, core as unknown as Remote<Core>)).toBe(store);
    store.getState().follow()();
    await settle();
    expect(asked).toHaveLength(before);
  });

  it('tells what goes wrong', async () => {
    const { lay, store, core } = desk();
    core.work = () => Promise.reject(new Error('no worker'));
    const stop = store.getState().follow();
    lay.setState({ shown: shown(1) });
    await settle();
    expect(store.getState().fault).toContain('no worker');
    stop();
  });
});

describe('the keys', () => {
  const press = (key: string, more: object = {}) => ({
    key,
    ctrlKey: false,
    metaKey: false,
    shiftKey: false,
    altKey: false,
    target: null,
    ...more,
  });

  it('undo and redo, and let go of what is in the hand before what is picked', () => {
    const { lay, store } = desk();
    const key = (pressed: ReturnType<typeof press>) => workKey(lay as unknown as LayStore, store, pressed);
    expect(key(press('z', { ctrlKey: true }))).toBe(true);
    expect(key(press('Z', { metaKey: true, shiftKey: true }))).toBe(true);
    expect(key(press('y', { ctrlKey: true }))).toBe(true);
    expect([lay.getState().undo.mock.calls.length, lay.getState().redo.mock.calls.length]).toEqual([1, 2]);
    store.getState().pick('L1');
    store.getState().hold('P1');
    expect(key(press('Escape'))).toBe(true);
    expect([store.getState().held, store.getState().picked]).toEqual([null, 'L1']);
    expect(key(press('Escape'))).toBe(true);
    expect(store.getState().picked).toBe(null);
    expect(key(press('Escape'))).toBe(false);
    expect(key(press('a'))).toBe(false);
    expect(key(press('a', { ctrlKey: true }))).toBe(false);
  });
});
