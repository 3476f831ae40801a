// What this device keeps for the yard: drafts as they are typed, and visits that wait for a connection. Each belongs to whoever entered
// it, and nobody else who signs in on the device sends it, sees it or throws it away.

/** Who is signed in on the page that is shown. */
export interface Who {
  /** The practice and the person in it. */
  id: string;
  /** As the page says it. */
  name: string;
}

let told: Who | null = null;

/** For pages without the bar that says who is signed in. */
export const signedInAs = (who: Who | null): void => {
  told = who;
};

export function whoIsHere(): Who {
  if (told) return told;
  const bar = typeof document === 'undefined' ? null : document.getElementById('waiting');
  return { id: bar?.dataset.who ?? '', name: bar?.dataset.name ?? '' };
}

/** Whether the person at the page entered it. */
export const isMine = (w: Waiting): boolean => w.by?.id === whoIsHere().id;

/** Whether all of it is on record, and it waits only to be seen that the value of another stands beside it. */
export const isOnlyToBeRead = (w: Waiting): boolean =>
  w.arrived === true && w.beside !== undefined && !w.overrules?.length && !w.photographs?.length;

export interface Waiting {
  /** The idempotency key: sent twice it is one visit. */
  key: string;
  horse: string;
  horseName: string;
  /** The horse's version when the page was opened. */
  version: number;
  body: VisitBody;
  /** Where the practice is: by its days a visit is of a day. */
  zone?: string;
  at: string;
  /** Who entered it; earlier releases did not write it down. */
  by?: Who;
  problem?: string;
  /** Taken at the visit; they follow it. */
  photographs?: Photograph[];
  /** Photographs that the server refused for good; here until somebody has seen why. */
  refused?: Photograph[];
  /** Values of others on record that give way to this visit's, once it is on record itself. */
  overrules?: { visit: string; entry: string; reason: string }[];
  /** Why the value of another stays beside this visit's, or a photograph was refused: nothing is left to do but to be told. */
  beside?: string;
  /** Somebody was asked which value stands, and has not answered yet. */
  asks?: boolean;
  /** The visit itself is on record, only photographs are on their way. */
  arrived?: boolean;
}

/** A tracing made at the desk for a visit that is still being entered; traced again, it replaces the one before. */
export interface KeptTracing {
  id: string;
  by?: string;
  horse: string;
  says: string;
  entry: Record<string, unknown>;
}

/** A photograph, or a document that was traced. */
export interface Photograph {
  id: string;
  by?: string;
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

const draftKey = (horse: string) => `${whoIsHere().id}/${horse}`;

export const draft = {
  keep: (horse: string, fields: Record<string, string>) => run('drafts', 'readwrite', s => s.put(fields, draftKey(horse))),
  load: async (horse: string) =>
    (await run<Record<string, string> | undefined>('drafts', 'readonly', s => s.get(draftKey(horse)))) ??
    // As earlier releases kept it.
    (await run<Record<string, string> | undefined>('drafts', 'readonly', s => s.get(horse))),
  drop: async (horse: string) => {
    await run('drafts', 'readwrite', s => s.delete(horse));
    await run('drafts', 'readwrite', s => s.delete(draftKey(horse)));
  },
};

export const waiting = {
  add: (w: Waiting) => run('waiting', 'readwrite', s => s.put(w)),
  all: () => run<Waiting[]>('waiting', 'readonly', s => s.getAll()),
  drop: (key: string) => run('waiting', 'readwrite', s => s.delete(key)),
  /** In one go: neither both nor none of them is ever there. */
  replace: (key: string, by: Waiting) =>
    run('waiting', 'readwrite', s => {
      if (key !== by.key) s.delete(key);
      return s.put(by);
    }),
};

interface Kept {
  id: string;
  horse: string;
  by?: string;
}

/** What nobody is named for was kept by an earlier release. */
const here = (item: Kept) => item.by === undefined || item.by === whoIsHere().id;

const kept = <T extends Kept>(store: string) => ({
  // Two people at one device may each keep their own of one horse.
  add: (item: T) => run(store, 'readwrite', s => s.put({ ...item, by: whoIsHere().id, id: own(item.id) })),
  of: async (horse: string) => (await run<T[]>(store, 'readonly', s => s.getAll())).filter(item => item.horse === horse && here(item)),
  drop: (id: string) => run(store, 'readwrite', s => s.delete(id)),
});

const own = (id: string) => (id.startsWith(`${whoIsHere().id}/`) ? id : `${whoIsHere().id}/${id}`);

export const tracings = kept<KeptTracing>('tracings');

export const photographs = kept<Photograph>('photographs');

/** Signing out leaves nothing of this person on the device but what waits to be sent. */
export async function forget(): Promise<void> {
  const mine = whoIsHere().id;
  for (const key of await run<IDBValidKey[]>('drafts', 'readonly', s => s.getAllKeys()))
    if (typeof key === 'string' && (key.startsWith(`${mine}/`) || !key.includes('/'))) await run('drafts', 'readwrite', s => s.delete(key));
  for (const store of ['tracings', 'photographs'])
    for (const item of await run<Kept[]>(store, 'readonly', s => s.getAll()))
      if (here(item)) await run(store, 'readwrite', s => s.delete(item.id));
}
