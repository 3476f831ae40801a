// The worker's copies, with a cache, a network and a clock of the browser's kind.
import { beforeEach, describe, expect, test, vi } from 'vitest';

const SITE = 'https://practice.example';
const HORSE = '/horses/11111111-1111-1111-1111-111111111111';
const ENTRY = `${HORSE}/visits/new`;
const DAY_MS = 86_400_000;

/** Of a browser's caches what the worker uses of them. */
class Copies {
  readonly kept = new Map<string, Response>();
  private readonly of = (r: Request | string) => new URL(typeof r === 'string' ? r : r.url, SITE).href;
  match = (r: Request | string) => Promise.resolve(this.kept.get(this.of(r))?.clone());
  put = (r: Request | string, response: Response) => Promise.resolve(void this.kept.set(this.of(r), response));
  delete = (r: Request | string) => Promise.resolve(this.kept.delete(this.of(r)));
  keys = () => Promise.resolve([...this.kept.keys()].map(url => new Request(url)));
}

const stores = new Map<string, Copies>();
const listeners = new Map<string, (e: unknown) => void>();
/** What the network answers, by path; a path that is not named has no connection. */
const network = new Map<string, () => Promise<Response> | Response>();

vi.stubGlobal('location', new URL(SITE));
vi.stubGlobal('self', {
  addEventListener: (type: string, act: (e: unknown) => void) => listeners.set(type, act),
  clients: { claim: () => Promise.resolve() },
});
vi.stubGlobal('caches', {
  open: (name: string) => {
    if (!stores.has(name)) stores.set(name, new Copies());
    return Promise.resolve(stores.get(name)!);
  },
  delete: (name: string) => Promise.resolve(stores.delete(name)),
  keys: () => Promise.resolve([...stores.keys()]),
});
vi.stubGlobal('fetch', async (r: Request | string) => {
  const answer = network.get(new URL(typeof r === 'string' ? r : r.url, SITE).pathname);
  if (!answer) throw new TypeError('no connection');
  return answer();
});

await import('../../src/visit/worker');

const page = (text: string, ageMs = 0) => new Response(text, { headers: { Date: new Date(Date.now() - ageMs).toUTCString() } });

/** As a browser answers what was sent on. */
const seen = (response: Response, as: Partial<Response>) =>
  Object.defineProperties(response, Object.fromEntries(Object.entries(as).map(([name, value]) => [name, { value }])));

const signIn = () => seen(page('Sign in'), { redirected: true, url: `${SITE}/sign-in?ReturnUrl=%2F` });

/** What the worker does when something happens, and what it answers. */
async function happens(type: string, event: object): Promise<Response | undefined> {
  const until: Promise<unknown>[] = [];
  let answer: Promise<Response> | undefined;
  listeners.get(type)!({
    ...event,
    waitUntil: (p: Promise<unknown>) => until.push(p),
    respondWith: (p: Promise<Response>) => {
      answer = p;
    },
  });
  await Promise.all(until);
  return answer;
}

const keeps = (keep: string[], who = 'anna') => happens('message', { data: { who, keep } });

const opens = (path: string) => happens('fetch', { request: new Request(SITE + path) });

const goesTo = (path: string) =>
  happens('fetch', { request: Object.defineProperty(new Request(SITE + path), 'mode', { value: 'navigate' }) });

const signsOut = () => happens('fetch', { request: new Request(`${SITE}/sign-out`, { method: 'POST' }) });

const kept = () => [...stores.values()].flatMap(s => [...s.kept.keys()]).map(url => new URL(url).pathname);

function gate() {
  let open!: () => void;
  const opened = new Promise<void>(resolve => {
    open = resolve;
  });
  return { open, opened };
}

const elsewhere = () => seen(page('Not yours'), { redirected: true, url: `${SITE}/not-yours` });

const old = () => page('Of last week', 6 * DAY_MS);

beforeEach(() => {
  stores.clear();
  network.clear();
  network.set('/sign-out', () => page('Signed out'));
});

describe('without a connection', () => {
  test('a page that was not kept says so and what is kept', async () => {
    network.set('/plan', () => page('<html><title>Plan &amp; route</title></html>'));
    await keeps(['/plan']);
    network.clear();
    for (const path of ['/reminders', '/horses/00000000-0000-0000-0000-000000000000']) {
      const answer = await goesTo(path);
      expect(answer?.status).toBe(503);
      const text = await answer!.text();
      expect(text).toContain('There is no connection');
      expect(text).toContain('<a href="/plan">Plan &amp; route</a>');
    }
  });

  test('a page that was kept is shown', async () => {
    network.set('/plan', () => page('The plan'));
    await keeps(['/plan']);
    network.clear();
    expect(await (await goesTo('/plan'))!.text()).toBe('The plan');
  });
});

describe('signing out', () => {
  test('keeps nothing of what was still being fetched when it began', async () => {
    const { open, opened } = gate();
    network.set('/plan', () => opened.then(() => page('Anna’s plan')));
    network.set(ENTRY, () => page('Anna’s visit'));
    const keeping = keeps(['/plan', ENTRY]);
    await signsOut();
    open();
    await keeping;
    expect(kept()).toEqual([]);
  });

  test('keeps nothing of what was fetched while its answer was on its way', async () => {
    const { open, opened } = gate();
    network.set('/sign-out', () => opened.then(() => page('Signed out')));
    network.set('/plan', () => page('Anna’s plan'));
    const leaving = signsOut();
    await keeps(['/plan']);
    await (await opens('/plan'))!.text();
    open();
    expect(await (await leaving)!.text()).toBe('Signed out');
    expect(kept()).toEqual([]);
  });

  test('keeps nothing of a page that was being opened when it began', async () => {
    const { open, opened } = gate();
    network.set('/plan', () => opened.then(() => page('Anna’s plan')));
    const opening = opens('/plan');
    await signsOut();
    open();
    await (await opening)!.text();
    expect(kept()).toEqual([]);
  });

  test('without a connection takes the copies all the same', async () => {
    network.set('/plan', () => page('Anna’s plan'));
    await keeps(['/plan']);
    network.delete('/sign-out');
    await expect(signsOut()).rejects.toThrow('no connection');
    expect(kept()).toEqual([]);
  });

  test('does not hinder the next person’s pages', async () => {
    await signsOut();
    network.set('/plan', () => page('Ben’s plan'));
    await keeps(['/plan'], 'ben');
    expect(kept()).toEqual(['/kept-for', '/plan']);
  });
});

describe('a session that has ended', () => {
  beforeEach(async () => {
    network.set('/plan', () => page('Anna’s plan'));
    await keeps(['/plan']);
  });

  test('takes the copies along where a page that is kept leads to the sign-in', async () => {
    expect(kept()).toContain('/plan');
    network.set(ENTRY, signIn);
    await keeps([ENTRY]);
    expect(kept()).not.toContain('/plan');
  });

  test('takes the copies along where a page that is opened is sent on to the sign-in', async () => {
    expect(kept()).toContain('/plan');
    let asked = 0;
    network.set('/plan', () => (asked++ === 0 ? seen(page(''), { type: 'opaqueredirect', ok: false, status: 0 }) : signIn()));
    expect((await opens('/plan'))!.type).toBe('opaqueredirect');
    await vi.waitFor(() => expect(kept()).toEqual([]));
  });

  test('is not one where a page is sent on elsewhere', async () => {
    network.set(ENTRY, elsewhere);
    await keeps([ENTRY]);
    expect(kept()).toContain('/plan');
  });
});

describe('a copy of days ago', () => {
  test('is dropped when something is kept, and one of yesterday stays', async () => {
    network.set('/plan', old);
    network.set('/yards', () => page('Of yesterday', DAY_MS));
    await keeps(['/plan', '/yards']);
    await keeps([]);
    expect(kept()).toEqual(['/kept-for', '/yards']);
  });

  test('is dropped when a worker takes over', async () => {
    network.set('/plan', old);
    await keeps(['/plan']);
    await happens('activate', {});
    expect(kept()).not.toContain('/plan');
  });
});
