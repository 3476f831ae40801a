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
  /** Taken at the visit; they follow it. */
  photographs?: Photograph[];
  /** The visit itself is on record, only photographs are on their way. */
  arrived?: boolean;
}

/** A tracing made at the desk for a visit that is still being entered; traced again, it replaces the one before. */
export interface KeptTracing {
  id: string;
  horse: string;
  says: string;
  entry: Record<string, unknown>;
}

/** A photograph, or a document that was traced. */
export interface Photograph {
  id: string;
  horse: string;
  bytes: Blob;
  kind?: 'photograph' | 'document';
}

export interface VisitBody {
  id: string;
  takenAt: string;
  method: string;
  conditions: Record<string, unknown>;
  entries: Record<string, unknown>[];
}

let opened: Promise<IDBDatabase> | null = null;

function open(): Promise<IDBDatabase> {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open('backhistory', 2);
    request.onupgradeneeded = e => {
      if (e.oldVersion < 1) {
        request.result.createObjectStore('drafts');
        request.result.createObjectStore('waiting', { keyPath: 'key' });
      }
      request.result.createObjectStore('tracings', { keyPath: 'id' });
      request.result.createObjectStore('photographs', { keyPath: 'id' });
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

const kept = <T extends { id: string; horse: string }>(store: string) => ({
  add: (item: T) => run(store, 'readwrite', s => s.put(item)),
  of: async (horse: string) => (await run<T[]>(store, 'readonly', s => s.getAll())).filter(item => item.horse === horse),
  drop: (id: string) => run(store, 'readwrite', s => s.delete(id)),
});

export const tracings = kept<KeptTracing>('tracings');

export const photographs = kept<Photograph>('photographs');

/** Signing out leaves nothing of a practice on the device but what waits to be sent. */
export async function forget(): Promise<void> {
  for (const store of ['drafts', 'tracings', 'photographs']) await run(store, 'readwrite', s => s.clear());
}
