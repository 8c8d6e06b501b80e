/**
 * Browser windows without a browser: an IndexedDB in memory, locks and channels between windows, a clock that runs fast, and the ways in which all
 * of it goes wrong. A window that crashes writes nothing more; what was on its way to the disk arrives or does not, as the seed has it.
 */
import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { type IDBPTransaction, unwrap } from 'idb';
import { connectionTo, type Database, openDatabase } from '../../src/web/document/database.ts';
import type { Channel, Locks, Surroundings } from '../../src/web/document/surroundings.ts';
import type { Random } from './random.ts';

/** How a write fails: for want of room, for another reason, with some of it done, or in its answer alone. */
export type Failure = 'room' | 'refused' | 'middle' | 'answer';

/** Milliseconds of a window to one of ours. */
const FAST = 30;

export interface World {
  /** Open one more window. */
  open(): FakeWindow;
  /** Notes that outlive the database. */
  readonly notes: Map<string, string>;
  /** Turn the clock on. */
  pass(ms: number): void;
  /** The browser clears what it stores, all of it. */
  evict(): void;
}

export interface FakeWindow {
  readonly surroundings: Surroundings;
  readonly database: () => Promise<Database>;
  /** Nothing of the window runs or writes any more. Each write under way arrives where the seed says so. */
  crash(random: Random): void;
  /** Timers stop, as in a window that sleeps in the background; messages and locks are not answered. */
  sleep(asleep: boolean): void;
  /** From the next on, which writes fail, and how. */
  failWrites(which: (count: number) => Failure | null): void;
}

export interface WorldOptions {
  readonly locks?: boolean;
  readonly channels?: boolean;
}

export function makeWorld({ locks = true, channels = true }: WorldOptions = {}): World {
  Object.assign(globalThis, { indexedDB: new IDBFactory() });
  const notes = new Map<string, string>();
  const hub = new Map<string, Set<{ readonly alive: () => boolean; hear: ((message: unknown) => void) | null }>>();
  const desk = makeLockDesk();
  let ids = 0;
  let passed = 0;
  const now = (): number => 1_700_000_000_000 + passed + Math.floor(performance.now() * FAST);

  return {
    notes,
    pass(ms) {
      passed += ms;
    },
    evict() {
      Object.assign(globalThis, { indexedDB: new IDBFactory() });
    },
    open() {
      let [dead, asleep, writes] = [false, false, 0];
      let fails: (count: number) => Failure | null = () => null;
      const free: (() => void)[] = [];
      const under = new Set<IDBTransaction>();
      const dbs: Database[] = [];
      const alive = (): boolean => !dead && !asleep;
      const held = desk.window();

      const watch = (db: Database): Database =>
        new Proxy(db, {
          get(target, key) {
            const value: unknown = Reflect.get(target, key);
            if (typeof value !== 'function') return value;
            if (key !== 'transaction') {
              return (...args: unknown[]) => {
                if (dead) throw new DOMException('the window is gone', 'InvalidStateError');
                return Reflect.apply(value, target, args);
              };
            }
            return (...args: unknown[]) => {
              if (dead) throw new DOMException('the window is gone', 'InvalidStateError');
              const how = args[1] === 'readwrite' ? fails(++writes) : null;
              if (how === 'room') throw new DOMException('no room', 'QuotaExceededError');
              if (how === 'refused') throw new DOMException('refused', 'UnknownError');
              const tx: IDBPTransaction = Reflect.apply(value, target, args);
              const raw = unwrap(tx);
              under.add(raw);
              for (const end of ['complete', 'abort']) raw.addEventListener(end, () => under.delete(raw));
              if (how === 'middle') setImmediate(() => setImmediate(() => abort(raw)));
              if (how !== 'answer') return tx;
              const done = tx.done.then(() => {
                throw new DOMException('no answer', 'UnknownError');
              });
              done.catch(() => {});
              return new Proxy(tx, {
                get(target, key) {
                  if (key === 'done') return done;
                  const value: unknown = Reflect.get(target, key);
                  return typeof value === 'function' ? value.bind(target) : value;
                },
              });
            };
          },
        });

      return {
        surroundings: {
          now,
          later(ms, work) {
            const run = (): void => {
              if (dead) return;
              if (asleep) timer = setTimeout(run, 1);
              else work();
            };
            let timer = setTimeout(run, ms / FAST);
            return () => clearTimeout(timer);
          },
          newId: () => `n${++ids}`,
          locks: locks ? held.locks : null,
          channel: channels
            ? (name) => {
                const channel = makeChannel(hub, name, alive);
                free.push(channel.close);
                return channel;
              }
            : null,
          storage: { persist: async () => true, persisted: async () => false },
          memory: {
            getItem: (key) => notes.get(key) ?? null,
            setItem: (key, value) => void notes.set(key, value),
          },
          sevenDays: false,
        },
        database: connectionTo(async (closed) => {
          const db = await openDatabase(closed);
          dbs.push(db);
          return watch(db);
        }),
        crash(random) {
          dead = true;
          for (const raw of under) if (random.chance(50)) abort(raw);
          for (const close of free) close();
          for (const db of dbs) db.close();
          held.release();
        },
        sleep(to) {
          asleep = to;
        },
        failWrites(which) {
          writes = 0;
          fails = which;
        },
      };
    },
  };
}

function abort(raw: IDBTransaction): void {
  try {
    raw.abort();
  } catch {
    // It has ended already.
  }
}

function makeChannel(
  hub: Map<string, Set<{ readonly alive: () => boolean; hear: ((message: unknown) => void) | null }>>,
  name: string,
  alive: () => boolean,
): Channel {
  const ears = hub.get(name) ?? new Set();
  hub.set(name, ears);
  const ear: { readonly alive: () => boolean; hear: ((message: unknown) => void) | null } = { alive, hear: null };
  ears.add(ear);
  return {
    post(message) {
      for (const other of ears) {
        if (other === ear) continue;
        setTimeout(() => {
          if (ears.has(other) && other.alive()) other.hear?.(structuredClone(message));
        });
      }
    },
    hear(listener) {
      ear.hear = listener;
    },
    close: () => void ears.delete(ear),
  };
}

interface Held {
  readonly window: object;
  readonly steal: () => void;
  readonly release: () => void;
}

/** Web Locks, exclusive ones, as the standard has them: a queue by name, `ifAvailable`, `steal`, `signal`. */
function makeLockDesk() {
  const holders = new Map<string, Held>();
  const queues = new Map<string, (() => void)[]>();
  const next = (name: string): void => {
    if (!holders.has(name)) queues.get(name)?.shift()?.();
  };
  const window = (): { readonly locks: Locks; release(): void } => {
    const me = {};
    let gone = false;
    return {
      locks: {
        request: (name, options, granted) =>
          new Promise<unknown>((resolve, reject) => {
            const grant = (): void => {
              if (gone) {
                next(name);
                return;
              }
              const held: Held = {
                window: me,
                steal: () => reject(new DOMException('stolen', 'AbortError')),
                release: () => {
                  if (holders.get(name) !== held) return;
                  holders.delete(name);
                  next(name);
                },
              };
              holders.set(name, held);
              Promise.resolve(granted({ name })).then((value) => {
                held.release();
                resolve(value);
              }, reject);
            };
            queueMicrotask(() => {
              const holder = holders.get(name);
              if (holder === undefined) return grant();
              if (options.ifAvailable === true) return resolve(granted(null));
              if (options.steal === true) {
                holders.delete(name);
                holder.steal();
                return grant();
              }
              const queue = queues.get(name) ?? [];
              queues.set(name, [...queue, grant]);
              options.signal?.addEventListener('abort', () => {
                const left = (queues.get(name) ?? []).filter((other) => other !== grant);
                if (left.length < (queues.get(name) ?? []).length) {
                  queues.set(name, left);
                  reject(new DOMException('no longer wanted', 'AbortError'));
                }
              });
            });
          }),
      },
      release() {
        gone = true;
        for (const held of [...holders.values()]) if (held.window === me) held.release();
      },
    };
  };
  return { window };
}
