// Lets the yard's pages open without a connection: each is fetched fresh when there is one, and the last copy is shown when there is none.
/// <reference lib="webworker" />

const worker = self as unknown as ServiceWorkerGlobalScope;
const STORE = 'yard-2';
/** What is entered in the yard: also shown from its copy where a connection is too slow. */
const ENTRY = /^\/horses\/[0-9a-f-]{36}\/visits\/new(\/desk)?$/;
/** What is looked at on the way: the copy is shown only where there is no connection, since it may be of before what was saved. */
const LOOK = /^\/(?:|yards|plan|(?:yards|horses|saddles)\/[0-9a-f-]{36})$/;
/** Looked at on the way too, of the day that its address names: no other day's copy will do. */
const ROUTE = /^\/plan\/route$/;
const isPage = (path: string) => ENTRY.test(path) || LOOK.test(path) || ROUTE.test(path);
const PART =
  /^\/(app\.webmanifest|js\/((visit|desk|find|form|chart|back|dryrun)(\.[^/]*)?|part-[^/]+)\.js|app(\.[^/]*)?\.css|mark(\.[^/]*)?\.svg)$/;
/** Under this address lies who the copies were made for. */
const OWNER = '/kept-for';
/** A connection that takes longer than this is none. */
const PATIENCE_MS = 4000;
/** A copy that is younger need not be fetched again only because somebody looks at a page that leads to it. */
const FRESH_MS = 60_000;
/** Nobody is that long without a connection, and a device that was lost shows no pages of long ago. */
const OLD_MS = 5 * 86_400_000;
/** How often somebody signed out: what was asked for before is not kept after. */
let signOuts = 0;

worker.addEventListener('install', () => void worker.skipWaiting());

worker.addEventListener('activate', e =>
  e.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== STORE) await caches.delete(name);
      await dropOld(await caches.open(STORE));
      await worker.clients.claim();
    })(),
  ),
);

worker.addEventListener('fetch', e => {
  const url = new URL(e.request.url);
  if (url.origin !== location.origin) return;
  // Signing out takes the copies along: the next person at this device sees none of them.
  if (e.request.method === 'POST' && url.pathname === '/sign-out') {
    e.respondWith(signOut(e.request));
    return;
  }
  if (e.request.method !== 'GET') return;
  if (isPage(url.pathname) || PART.test(url.pathname)) e.respondWith(answer(e.request));
  else if (e.request.mode === 'navigate') e.respondWith(fetch(e.request).catch(notKept));
});

// What an open page will need in the yard.
worker.addEventListener('message', e => e.waitUntil(keepFor(e.data as Wanted)));

/** What a page asks of it. */
export interface Wanted {
  who: string;
  /** Fetched anew. */
  keep: string[];
  /** Fetched where there is no copy, or an old one. */
  fill?: string[];
}

/** What was fetched while the answer was on its way was still the person's who leaves: the copies are deleted after it once more. */
async function signOut(request: Request): Promise<Response> {
  await forget();
  try {
    return await fetch(request);
  } finally {
    await forget();
  }
}

async function forget(): Promise<void> {
  signOuts++;
  await caches.delete(STORE);
}

const ageOf = (copy: Response) => Date.now() - Date.parse(copy.headers.get('Date') ?? '');

async function dropOld(store: Cache): Promise<void> {
  for (const request of await store.keys()) {
    const copy = isPage(new URL(request.url).pathname) ? await store.match(request) : undefined;
    if (copy && !(ageOf(copy) < OLD_MS)) await store.delete(request);
  }
}

/** Whether a page was answered with the sign-in: nobody is signed in any more. */
async function isSignedOut(response: Response, address: string): Promise<boolean> {
  // A window is not told where it is sent on to: that is asked for once more.
  const led = response.type === 'opaqueredirect' ? await fetch(address).catch(() => undefined) : response;
  return led?.redirected === true && new URL(led.url).pathname === '/sign-in';
}

/** Pages were made for one person: the copies of whoever was signed in before are of no use to the next. */
async function keepFor({ who, keep: pages, fill = [] }: Wanted): Promise<void> {
  const since = signOuts;
  const store = await caches.open(STORE);
  await dropOld(store);
  const before = await (await store.match(OWNER))?.text();
  if (before !== who) {
    for (const request of await store.keys()) if (isPage(new URL(request.url).pathname)) await store.delete(request);
    if (since !== signOuts) return;
    await store.put(OWNER, new Response(who));
  }
  // One after the other: whoever is looking at a page goes first.
  for (const page of pages) await keep(page, since, true);
  for (const page of fill) await keep(page, since);
}

/** In place of the browser's own words where there is no connection: what is kept here, and that nothing is lost. */
async function notKept(): Promise<Response> {
  const store = await caches.open(STORE);
  const pages: string[] = [];
  for (const { url } of await store.keys()) {
    const { pathname: path, search } = new URL(url);
    if (!isPage(path)) continue;
    // A title stands in the copy as it may stand in a page.
    const title = /<title>([^<]*)<\/title>/.exec((await (await store.match(url))?.text()) ?? '')?.[1];
    pages.push(`<li><a href="${path}${search.replaceAll('"', '%22')}">${title ?? path}</a></li>`);
  }
  const kept = pages.length === 0 ? '<p>No page is kept on this device.</p>' : `<h2>Kept on this device</h2><ul>${pages.join('')}</ul>`;
  const body = `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>No connection</title><style>:root{color-scheme:light dark}
body{font:1rem/1.5 system-ui,sans-serif;max-width:34rem;margin:2rem auto;padding:0 1rem}
a{display:inline-flex;align-items:center;min-height:44px}</style></head><body><h1>There is no connection</h1>
<p>This page was not kept on the device. What you entered and saved here is not lost: it is sent when there is a connection again.</p>
${kept}</body></html>`;
  return new Response(body, { status: 503, headers: { 'Content-Type': 'text/html; charset=utf-8' } });
}

async function answer(request: Request): Promise<Response> {
  const since = signOuts;
  const store = await caches.open(STORE);
  const path = new URL(request.url).pathname;
  const kept = await store.match(request, { ignoreSearch: !ROUTE.test(path) });
  const fresh = fetch(request).then(async response => {
    // Of a page that is looked at only the whole one is kept, not what was searched or sorted in it.
    if (response.ok && !response.redirected && since === signOuts && !(LOOK.test(path) && new URL(request.url).search !== ''))
      await store.put(request, response.clone());
    if (isPage(path) && !response.ok && (await isSignedOut(response, request.url))) await forget();
    return response;
  });
  if (!kept) return request.mode === 'navigate' ? fresh.catch(notKept) : fresh;
  if (LOOK.test(path) || ROUTE.test(path)) return fresh.catch(() => kept);
  return Promise.race([fresh.catch(() => kept), new Promise<Response>(resolve => setTimeout(() => resolve(kept), PATIENCE_MS))]);
}

const isFresh = (copy: Response) => ageOf(copy) < FRESH_MS;

/** @param since how often somebody had signed out when it was asked for. */
async function keep(address: string, since: number, anew = false): Promise<void> {
  if (since !== signOuts) return;
  const url = new URL(address, location.origin);
  if (url.origin !== location.origin || !(isPage(url.pathname) || PART.test(url.pathname))) return;
  const store = await caches.open(STORE);
  // Scripts and styles change their names with their content; a page is fetched anew.
  const before = await store.match(url.href);
  const there = before && (!isPage(url.pathname) || (!anew && isFresh(before))) ? before : undefined;
  // The audit tells what was looked at from what a device only keeps.
  const response = there ?? (await fetch(url.href, { headers: { 'X-Kept-On-Device': 'yes' } }).catch(() => undefined));
  if (response && isPage(url.pathname) && (await isSignedOut(response, url.href))) await forget();
  if (!response?.ok || response.redirected || since !== signOuts) return;
  if (!there) await store.put(url.href, response.clone());
  // A page that was fetched and not opened has loaded none of its scripts and styles.
  if (isPage(url.pathname))
    await Promise.all([...(await response.text()).matchAll(/(?:src|href)="(\/[^"]+\.(?:js|css|svg))"/g)].map(m => keep(m[1]!, since)));
  if (url.pathname.endsWith('.js'))
    await Promise.all(
      [...(await response.text()).matchAll(/(?:from|import)\s*"\.\/(part-[\w-]+\.js)"/g)].map(m => keep(`/js/${m[1]}`, since)),
    );
}
