// Lets the yard's pages open without a connection: each is fetched fresh when there is one, and the last copy is shown when there is none.
/// <reference lib="webworker" />

const worker = self as unknown as ServiceWorkerGlobalScope;
const STORE = 'yard-1';
const PAGE = /^\/horses\/[0-9a-f-]{36}\/visits\/new$/;
const PART = /^\/(js\/(visit|part-[^/]+)\.js|app\.[^/]*css|app\.css|mark\.[^/]*svg|js\/visit\.[^/]*js)$/;
const PATIENCE_MS = 4000;

worker.addEventListener('install', () => void worker.skipWaiting());

worker.addEventListener('activate', e => e.waitUntil((async () => {
  for (const name of await caches.keys()) if (name !== STORE) await caches.delete(name);
  await worker.clients.claim();
})()));

worker.addEventListener('fetch', e => {
  const url = new URL(e.request.url);
  if (url.origin !== location.origin) return;
  // Signing out takes the copies along: the next person at this device sees none of them.
  if (e.request.method === 'POST' && url.pathname === '/sign-out') { e.waitUntil(caches.delete(STORE)); return; }
  if (e.request.method !== 'GET' || !(PAGE.test(url.pathname) || PART.test(url.pathname))) return;
  e.respondWith(answer(e.request));
});

async function answer(request: Request): Promise<Response> {
  const store = await caches.open(STORE);
  const quiet = new AbortController();
  const timer = setTimeout(() => quiet.abort(), PATIENCE_MS);
  try {
    const fresh = await fetch(request, request.mode === 'navigate' ? undefined : { signal: quiet.signal });
    if (fresh.ok && !fresh.redirected) await store.put(request, fresh.clone());
    return fresh;
  } catch (e) {
    const kept = await store.match(request, { ignoreSearch: true });
    if (kept) return kept;
    throw e;
  } finally {
    clearTimeout(timer);
  }
}
