// Lets the yard's pages open without a connection: each is fetched fresh when there is one, and the last copy is shown when there is none.
/// <reference lib="webworker" />

const worker = self as unknown as ServiceWorkerGlobalScope;
const STORE = 'yard-2';
const PAGE = /^\/horses\/[0-9a-f-]{36}\/visits\/new(\/desk)?$/;
const PART = /^\/(js\/((visit|desk|find)(\.[^/]*)?|part-[^/]+)\.js|app(\.[^/]*)?\.css|mark(\.[^/]*)?\.svg)$/;
/** Under this address lies who the copies were made for. */
const OWNER = '/kept-for';
/** A connection that takes longer than this is none. */
const PATIENCE_MS = 4000;

worker.addEventListener('install', () => void worker.skipWaiting());

worker.addEventListener('activate', e =>
  e.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== STORE) await caches.delete(name);
      await worker.clients.claim();
    })(),
  ),
);

worker.addEventListener('fetch', e => {
  const url = new URL(e.request.url);
  if (url.origin !== location.origin) return;
  // Signing out takes the copies along: the next person at this device sees none of them.
  if (e.request.method === 'POST' && url.pathname === '/sign-out') {
    e.waitUntil(caches.delete(STORE));
    return;
  }
  if (e.request.method !== 'GET' || !(PAGE.test(url.pathname) || PART.test(url.pathname))) return;
  e.respondWith(answer(e.request));
});

// What an open page will need in the yard.
worker.addEventListener('message', e => e.waitUntil(keepFor(e.data as { who: string; keep: string[] })));

/** Pages were made for one person: the copies of whoever was signed in before are of no use to the next. */
async function keepFor({ who, keep: pages }: { who: string; keep: string[] }): Promise<void> {
  const store = await caches.open(STORE);
  const before = await (await store.match(OWNER))?.text();
  if (before !== who) {
    for (const request of await store.keys()) if (PAGE.test(new URL(request.url).pathname)) await store.delete(request);
    await store.put(OWNER, new Response(who));
  }
  await Promise.all(pages.map(keep));
}

async function answer(request: Request): Promise<Response> {
  const store = await caches.open(STORE);
  const kept = await store.match(request, { ignoreSearch: true });
  const fresh = fetch(request).then(async response => {
    if (response.ok && !response.redirected) await store.put(request, response.clone());
    return response;
  });
  if (!kept) return fresh;
  return Promise.race([fresh.catch(() => kept), new Promise<Response>(resolve => setTimeout(() => resolve(kept), PATIENCE_MS))]);
}

async function keep(address: string): Promise<void> {
  const url = new URL(address, location.origin);
  if (url.origin !== location.origin || !(PAGE.test(url.pathname) || PART.test(url.pathname))) return;
  const store = await caches.open(STORE);
  // Scripts and styles change their names with their content; a page is fetched anew.
  const there = PAGE.test(url.pathname) ? undefined : await store.match(url.href);
  const response = there ?? (await fetch(url.href).catch(() => undefined));
  if (!response?.ok || response.redirected) return;
  if (!there) await store.put(url.href, response.clone());
  if (url.pathname.endsWith('.js'))
    await Promise.all([...(await response.text()).matchAll(/(?:from|import)\s*"\.\/(part-[\w-]+\.js)"/g)].map(m => keep(`/js/${m[1]}`)));
}
