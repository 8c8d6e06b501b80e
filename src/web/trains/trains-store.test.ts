import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { createStore } from 'zustand/vanilla';
import { applyTransaction, type PanelFile, readPanel } from '../../panel/index.ts';
import { readPlan } from '../../plan/index.ts';
import { readTrains } from '../../routes/index.ts';
import { bringTrains, tellTrains } from '../worker/trains.ts';
import { keepSheet, keptSheet, readSheet } from './kept-sheet.ts';
import { isWritten, makeTrainsStore, type TrainsStore } from './trains-store.ts';

const text = readFileSync(join(import.meta.dirname, '../../../examples/quillhaven-harbour.mimic.json'), 'utf8');
const read = readPanel(text);
if (!read.ok) throw new Error('the demo cannot be read');
const { panel } = read;
const plan = readPlan(panel);
const fileTrains = readTrains(panel, plan);
/** Panels that were written. */
const written: PanelFile[] = [];

/** As much of the window as trains touch. */
function windowOf() {
  const thrown: Record<string, string>[] = [];
  const app = createStore<object>()((set, get) => ({
    levers: {},
    lies: {},
    layPoints: () => {},
    view: { levers: plan.levers.map(({ id }) => ({ id, positions: ['normal', 'reverse'] })), points: [] },
    throwLevers: (levers: Record<string, string>) => {
      thrown.push(levers);
      set({ levers: { ...(get() as { levers: object }).levers, ...levers } });
    },
    pickMove: () => {},
    refuse: ({ fault }: { fault: string }) => {
      throw new Error(fault);
    },
  }));
  return { app: app as never, thrown, levers: () => (app.getState() as { levers: Record<string, string> }).levers };
}

const core = {
  trains: (ask: Parameters<typeof tellTrains>[1]) => Promise.resolve(tellTrains(plan, ask)),
  bring: (ask: Parameters<typeof bringTrains>[1]) => Promise.resolve(bringTrains(plan, ask)),
};

const settled = (): Promise<void> => new Promise((done) => setTimeout(done));

const memory = new Map<string, string>();
beforeEach(() => {
  memory.clear();
  written.length = 0;
  Object.assign(globalThis, {
    localStorage: {
      getItem: (key: string) => memory.get(key) ?? null,
      setItem: (key: string, value: string) => void memory.set(key, value),
    },
  });
});

async function begun(app = windowOf()): Promise<{ store: TrainsStore; app: ReturnType<typeof windowOf> }> {
  const store = makeTrainsStore(app.app, core as never, {
    key: () => 'demo',
    file: fileTrains,
    change: async (make, _, after) => {
      const tx = make(panel);
      if (tx !== null) written.push(applyTransaction(panel, tx));
      after();
      return true;
    },
  });
  await settled();
  return { store, app };
}

async function run(store: TrainsStore, train: string, to: string): Promise<void> {
  store.getState().pick(train);
  expect(store.getState().choosePlace(to)).toBe(true);
  store.getState().go(() => '');
  await settled();
}

const where = (store: TrainsStore): string =>
  store
    .getState()
    .answer?.now.map(({ id, stands }) => `${id} ${stands}`)
    .join(', ') ?? '';

describe('trains in Run', () => {
  it('begin where the file has them', async () => {
    const { store } = await begun();
    expect(where(store)).toBe('T1 platform-1, T2 yard-road-1, T3 yard-road-3, T4 storage-2');
    expect(store.getState().answer?.marks).toHaveLength(4);
  });

  it('go with the levers that the move asks for, and the sheet has it', async () => {
    const { store, app } = await begun();
    // Out of Yard 1 to Tolland: L2, L4, L5 and L6 reverse, L1 normal; from the file, by hand.
    await run(store, 'T2', 'tolland');
    expect(where(store)).toContain('T2 tolland');
    expect(app.levers()).toMatchObject({ L1: 'normal', L2: 'reverse', L4: 'reverse', L5: 'reverse', L6: 'reverse' });
    expect(store.getState()).toMatchObject({ at: 1, moves: [{ train: 'T2', to: 'tolland' }] });
    // Nobody goes where another stands in the way.
    store.getState().pick('T1');
    expect(store.getState().choosePlace('tolland')).toBe(false);
  });

  it('are stepped back and on with their levers, and written over from where they were stepped to', async () => {
    const { store, app } = await begun();
    await run(store, 'T1', 'storage-3');
    await run(store, 'T2', 'tolland');
    store.getState().stepTo(1);
    await settled();
    expect(where(store)).toBe('T1 storage-3, T2 yard-road-1, T3 yard-road-3, T4 storage-2');
    expect(app.levers()).toMatchObject({ L2: 'normal', L4: 'normal', L5: 'normal', L6: 'normal' });
    store.getState().stepTo(2);
    await settled();
    expect(where(store)).toContain('T2 tolland');
    expect(app.levers()).toMatchObject({ L2: 'reverse', L6: 'reverse' });
    store.getState().stepTo(0);
    await settled();
    await run(store, 'T3', 'tolland');
    expect(store.getState().moves.map(({ train }) => train)).toEqual(['T3']);
  });

  it('are brought where they are wanted in the fewest moves, which the sheet then runs', async () => {
    const { store } = await begun();
    store.getState().want('T4', 'storage-4');
    store.getState().want('T1', 'storage-3');
    await store.getState().find();
    const { brought } = store.getState();
    expect(brought?.outcome).toBe('found');
    store.getState().take();
    await settled();
    const { answer } = store.getState();
    expect(answer?.runs).toBe(brought?.moves.length);
    store.getState().stepTo(answer?.runs ?? 0);
    await settled();
    expect(where(store)).toContain('T1 storage-3');
    expect(where(store)).toContain('T4 storage-4');
  });

  it('are written into the panel where they stand now, with the sheet kept under the ids that the file gives', async () => {
    const { store } = await begun();
    expect(isWritten(fileTrains, store.getState().file)).toBe(true);
    await run(store, 'T2', 'tolland');
    store.getState().add('', 'neck');
    await settled();
    const now = store.getState().answer?.now ?? [];
    expect(isWritten(now, store.getState().file)).toBe(false);
    await store.getState().write();
    const [after] = written;
    if (after === undefined) throw new Error('nothing was written');
    // The file has the demo's four as they stand now, and the fifth; read back as the file has them.
    const read = readTrains(after, readPlan(after));
    expect(read.map(({ id, stands }) => `${id} ${stands}`)).toEqual([
      'T1 platform-1',
      'T2 tolland',
      'T3 yard-road-3',
      'T4 storage-2',
      'T5 neck',
    ]);
    expect(isWritten(now, read)).toBe(true);
    expect(keptSheet('demo')?.moves.map(({ train }) => train)).toEqual(['T2']);
  });

  it('are added, told of and taken off, and what was written can be had back', async () => {
    const { store } = await begun();
    store.getState().add('Mail', 'quay-end');
    store.getState().change('T5', { length: 1200 });
    await settled();
    expect(where(store)).toContain('T5 quay-end');
    await run(store, 'T1', 'storage-3');
    const sheet = store.getState().moves;
    store.getState().remove('T1');
    await settled();
    expect(store.getState().moves.some(({ train }) => train === 'T1')).toBe(false);
    store.getState().takeBack();
    await settled();
    expect(store.getState().moves).toEqual(sheet);
    store.getState().begin();
    await settled();
    expect(store.getState()).toMatchObject({ moves: [], at: 0 });
    expect(where(store)).toContain('T1 storage-3');
    store.getState().takeBack();
    await settled();
    expect(store.getState().moves).toEqual(sheet);
  });

  it('are there again at the next visit', async () => {
    const { store } = await begun();
    await run(store, 'T1', 'storage-3');
    const again = await begun();
    expect(where(again.store)).toBe(where(store));
    expect(again.store.getState().moves).toEqual(store.getState().moves);
  });
});

describe('a kept sheet', () => {
  const sheet = {
    standing: [{ id: 'T1', name: null, length: null, stands: 'west', heads: null }],
    thrown: { L1: 'centre' as const },
    moves: [{ train: 'T1', to: 'east', points: { P1: 'reverse' as const } }],
    at: 1,
  };
  it('is read back as it was', () => {
    keepSheet('a', sheet);
    expect(keptSheet('a')).toEqual(sheet);
    expect(keptSheet('b')).toBeNull();
  });
  it('is none where anything of it is not what it should be', () => {
    const spoilt: readonly unknown[] = [
      null,
      [],
      'text',
      {},
      { ...sheet, at: '1' },
      { ...sheet, at: 0.5 },
      { ...sheet, thrown: { L1: 'up' } },
      { ...sheet, standing: [{ id: 'T1' }] },
      { ...sheet, standing: [{ ...sheet.standing[0], length: -1 }] },
      { ...sheet, moves: [{ train: 'T1', to: 'east', points: { P1: 'centre' } }] },
      { ...sheet, moves: 3 },
    ];
    for (const data of spoilt) expect(readSheet(data)).toBeNull();
    memory.set('mimicwright.trains.a', '{');
    expect(keptSheet('a')).toBeNull();
  });
  it('is not missed where storage refuses', () => {
    Object.assign(globalThis, {
      localStorage: {
        getItem: () => {
          throw new Error('refused');
        },
        setItem: () => {
          throw new Error('full');
        },
      },
    });
    keepSheet('a', sheet);
    expect(keptSheet('a')).toBeNull();
  });
});
