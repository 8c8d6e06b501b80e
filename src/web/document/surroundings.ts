/**
 * What the keeping of panels takes from the browser, named one by one, so that a test can give its own. Uses `navigator` (locks, storage),
 * `BroadcastChannel`, `localStorage`, timers, the clock and random numbers. Each may be missing.
 */

/** Messages between the windows on one panel. */
export interface Channel {
  post(message: unknown): void;
  hear(listener: (message: unknown) => void): void;
  close(): void;
}

/** The part of Web Locks that is used. */
export interface Locks {
  request(
    name: string,
    options: { readonly ifAvailable?: boolean; readonly steal?: boolean; readonly signal?: AbortSignal },
    granted: (lock: unknown) => Promise<void> | undefined,
  ): Promise<unknown>;
}

/** The part of `navigator.storage` that is used. */
export interface StorageRoom {
  persist(): Promise<boolean>;
  persisted(): Promise<boolean>;
}

export interface Surroundings {
  /** Milliseconds since 1970 UTC. */
  readonly now: () => number;
  /** Do it after so many ms; answers what cancels it. */
  readonly later: (ms: number, work: () => void) => () => void;
  /** A name that is given once in the world. */
  readonly newId: () => string;
  readonly locks: Locks | null;
  readonly channel: ((name: string) => Channel) | null;
  readonly storage: StorageRoom | null;
  /** Small texts that outlive the database. */
  readonly memory: Pick<Storage, 'getItem' | 'setItem'> | null;
  /** May the browser delete everything after seven days without a visit? */
  readonly sevenDays: boolean;
}

/** The browser's own, with null for what it lacks or refuses. */
export function browserSurroundings(): Surroundings {
  return {
    now: () => Date.now(),
    later(ms, work) {
      const timer = setTimeout(work, ms);
      return () => clearTimeout(timer);
    },
    newId: randomId,
    locks: orNull(() => navigator.locks),
    channel: typeof BroadcastChannel === 'function' ? openChannel : null,
    storage: orNull(() => (typeof navigator.storage.persist === 'function' ? navigator.storage : null)),
    memory: orNull(() => {
      // Where it is refused, it is refused on use.
      localStorage.getItem('');
      return localStorage;
    }),
    sevenDays: orNull(() => hasSevenDayRule(navigator.vendor, isInstalled())) ?? false,
  };
}

/**
 * WebKit deletes what scripts have stored after seven days of use without a visit to the site, unless the site is installed as an application
 * (WebKit, "Full Third-Party Cookie Blocking and More", 2020). It is told by the vendor that it names.
 */
export const hasSevenDayRule = (vendor: string, installed: boolean): boolean =>
  vendor.startsWith('Apple') && !installed;

const isInstalled = (): boolean =>
  typeof matchMedia === 'function' && matchMedia('(display-mode: standalone), (display-mode: minimal-ui)').matches;

function openChannel(name: string): Channel {
  const channel = new BroadcastChannel(name);
  return {
    post: (message) => channel.postMessage(message),
    hear: (listener) => channel.addEventListener('message', ({ data }) => listener(data)),
    close: () => channel.close(),
  };
}

/** 128 random bits in hexadecimal; `randomUUID` is missing on pages that are not secure. */
const randomId = (): string =>
  [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('');

function orNull<T>(get: () => T): NonNullable<T> | null {
  try {
    return get() ?? null;
  } catch {
    return null;
  }
}
