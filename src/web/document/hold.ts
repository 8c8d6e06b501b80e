/**
 * Which window may edit a panel: a Web Lock where there are any, else a lease in the database that is renewed while the window lives. This
 * decides who tries; that no one overwrites another is the journal's own check.
 */
import type { Database } from './database.ts';
import type { Surroundings } from './surroundings.ts';

/** How long a lease holds without being renewed, ms. A window in the background may sleep for a second or more. */
const LEASE_MS = 6_000;
/** How often a lease is renewed, ms. */
const BEAT_MS = 2_000;
/** How long a window that was asked to let go is waited for, ms. */
const PATIENCE_MS = 3_000;
/** How often a lease that is waited for is looked at, ms. */
const LOOK_MS = 200;

/** `if-free`: at once or not at all. `wait`: when it is let go, for a while. `force`: whoever has it. */
export type Take = 'if-free' | 'wait' | 'force';

export interface Hold {
  readonly held: boolean;
  take(how: Take): Promise<boolean>;
  letGo(): Promise<void>;
}

/** The hold on one panel for one window; `lost` is called when another has taken it by force. */
export function makeHold(
  panel: string,
  writer: string,
  surroundings: Surroundings,
  database: () => Promise<Database>,
  lost: () => void,
): Hold {
  const { locks } = surroundings;
  return locks === null
    ? leaseHold(panel, writer, surroundings, database, lost)
    : lockHold(`mimicwright-panel-${panel}`, locks, surroundings, lost);
}

function lockHold(
  name: string,
  locks: NonNullable<Surroundings['locks']>,
  { later }: Surroundings,
  lost: () => void,
): Hold {
  let held: { readonly free: () => void; readonly over: Promise<void> } | null = null;
  return {
    get held() {
      return held !== null;
    },
    take(how) {
      if (held !== null) return Promise.resolve(true);
      const patience = new AbortController();
      const cancel = how === 'wait' ? later(PATIENCE_MS, () => patience.abort()) : () => {};
      const options =
        how === 'if-free' ? { ifAvailable: true } : how === 'force' ? { steal: true } : { signal: patience.signal };
      return new Promise<boolean>((answer) => {
        let mine: typeof held = null;
        let ended = (): void => {};
        const over = new Promise<void>((done) => {
          ended = done;
        });
        locks
          .request(name, options, (lock) => {
            cancel();
            if (lock === null) return undefined;
            return new Promise<void>((free) => {
              mine = { free, over };
              held = mine;
              answer(true);
            });
          })
          .catch(() => {})
          .finally(() => {
            cancel();
            ended();
            answer(false);
            if (mine === null || held !== mine) return;
            held = null;
            lost();
          });
      });
    },
    async letGo() {
      const mine = held;
      held = null;
      mine?.free();
      await mine?.over;
    },
  };
}

function leaseHold(
  panel: string,
  writer: string,
  { now, later }: Surroundings,
  database: () => Promise<Database>,
  lost: () => void,
): Hold {
  let held = false;
  let stopBeat = (): void => {};

  /** Write the lease if it is free, ours, or to be taken by force; `renew`: only if it is ours. */
  const write = async (how: 'take' | 'force' | 'renew'): Promise<boolean> => {
    const tx = (await database()).transaction('leases', 'readwrite');
    const lease = await tx.store.get(panel);
    const ours = lease?.holder === writer;
    const free = lease === undefined || lease.until <= now();
    const may = how === 'force' || ours || (how === 'take' && free);
    if (may) await tx.store.put({ panel, holder: writer, until: now() + LEASE_MS });
    await tx.done;
    return may;
  };
  const beat = (): void => {
    stopBeat = later(BEAT_MS, async () => {
      // A beat that fails for want of a database is no loss of the lease: the next may get through.
      const ours = await write('renew').catch(() => true);
      if (!held) return;
      if (ours) return beat();
      held = false;
      lost();
    });
  };
  return {
    get held() {
      return held;
    },
    async take(how) {
      if (held) return true;
      const until = now() + PATIENCE_MS;
      do {
        held = await write(how === 'force' ? 'force' : 'take').catch(() => false);
        if (!held && how === 'wait') await new Promise<void>((done) => later(LOOK_MS, done));
      } while (!held && how === 'wait' && now() < until);
      if (held) beat();
      return held;
    },
    async letGo() {
      if (!held) return;
      held = false;
      stopBeat();
      try {
        const tx = (await database()).transaction('leases', 'readwrite');
        if ((await tx.store.get(panel))?.holder === writer) await tx.store.delete(panel);
        await tx.done;
      } catch {
        // It runs out by itself.
      }
    },
  };
}
