/**
 * Everything that the database holds, record by record, so that one that cannot be read does not hide the others. Reads whatever version of the
 * database is there and creates none. Uses IndexedDB as it is.
 */
import { rescueWords } from '../words/rescue.ts';

/** The name that the application gives its database. */
export const NAME = 'mimicwright';

export interface Records {
  /** By store, each record with its key. */
  readonly stores: ReadonlyMap<string, readonly { readonly key: unknown; readonly value: unknown }[]>;
  /** What could not be read, in words. */
  readonly wrongs: readonly string[];
}

/** Read it all. Null where there is no database. Rejects where the browser does not let it be opened. */
export async function readRecords(): Promise<Records | null> {
  const db = await openAsItIs();
  if (db === null) return null;
  const stores = new Map<string, { key: unknown; value: unknown }[]>();
  const wrongs: string[] = [];
  for (const name of db.objectStoreNames) {
    const found: { key: unknown; value: unknown }[] = [];
    stores.set(name, found);
    try {
      const keys = await ask(db, name, (store) => store.getAllKeys());
      for (const key of keys) {
        try {
          found.push({ key, value: await ask(db, name, (store) => store.get(key)) });
        } catch (error) {
          wrongs.push(rescueWords.badRecord(name, JSON.stringify(key), say(error)));
        }
      }
    } catch (error) {
      wrongs.push(rescueWords.badList(name, say(error)));
    }
  }
  db.close();
  return { stores, wrongs };
}

/** Each record in a transaction of its own: a damaged one ends the transaction that it is read in. */
const ask = <T>(db: IDBDatabase, name: string, what: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    const request = what(db.transaction(name).objectStore(name));
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

const openAsItIs = (): Promise<IDBDatabase | null> =>
  new Promise((resolve, reject) => {
    let none = false;
    const request = indexedDB.open(NAME);
    request.onupgradeneeded = () => {
      // There was none: leave none, or the application would take an empty one for its own.
      none = true;
      request.transaction?.abort();
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => (none ? resolve(null) : reject(request.error));
    request.onblocked = () => reject(new Error(rescueWords.upgrading));
  });

export const say = (error: unknown): string => (error instanceof Error ? error.message : String(error));
