// What this device keeps for the yard: drafts as they are typed, and visits that wait for a connection.

export interface Waiting {
  /** The idempotency key: sent twice it is one visit. */
  key: string;
  horse: string;
  horseName: string;
  /** The horse's version when the page was opened. */
  version: number;
  body: VisitBody;
  at: string;
  problem?: string;
}

export interface VisitBody { id: string; takenAt: string; method: string; conditions: Record<string, unknown>; entries: Record<string, unknown>[] }

let opened: Promise<IDBDatabase> | null = null;

function open(): Promise<IDBDatabase> {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open('backhistory', 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore('drafts');
      request.result.createObjectStore('waiting', { keyPath: 'key' });
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
  return opened;
}

async function run<T>(store: string, mode: IDBTransactionMode, act: (s: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const db = await open();
  return new Promise((resolve, reject) => {
    const request = act(db.transaction(store, mode).objectStore(store));
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

export const draft = {
  keep: (horse: string, fields: Record<string, string>) => run('drafts', 'readwrite', s => s.put(fields, horse)),
  load: (horse: string) => run<Record<string, string> | undefined>('drafts', 'readonly', s => s.get(horse)),
  drop: (horse: string) => run('drafts', 'readwrite', s => s.delete(horse)),
};

export const waiting = {
  add: (w: Waiting) => run('waiting', 'readwrite', s => s.put(w)),
  all: () => run<Waiting[]>('waiting', 'readonly', s => s.getAll()),
  drop: (key: string) => run('waiting', 'readwrite', s => s.delete(key)),
};

/** Signing out leaves nothing of a practice on the device but what waits to be sent. */
export async function forget(): Promise<void> {
  await run('drafts', 'readwrite', s => s.clear());
}
