// Keeps one whole version of the page for use without a network.
//
// scripts/release writes the version and the hash of every file in place of the two lines below. A version is kept whole
// or not at all: what does not have its hash is not kept. Each version has a cache and, but for the door (this file, the
// page and what a browser reads beside it), a folder of its own, so a page never gets a file of another version.
// As it stands here, in a folder that was not released, this worker takes itself away: nobody who works on the page is
// shown yesterday's files.

const VERSION = '';
/** SHA-256 of each file in base64, by its address from here. @type {Record<string, string>} */
const FILES = {};

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
/** Other pages of the same host keep their caches. */
const PREFIX = `leaveline ${new URL(worker.registration.scope).pathname} `;
const CACHE = PREFIX + VERSION;
/** The page itself, as the host names it. */
const PAGE = './';

/** @param {string} name */
const addressOf = (name) => new URL(name, worker.registration.scope).href;

/** @param {ArrayBuffer} bytes */
async function hashOf(bytes) {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return btoa(String.fromCharCode(...hash));
}

/** The caches of this page, whatever their version. */
const kept = async () => (await caches.keys()).filter((name) => name.startsWith(PREFIX));

/** What has no folder of its version, or a policy of its own in its headers, is fetched always. @param {string} name */
const isAnew = (name) => !name.startsWith(`${VERSION}/`) || name.endsWith('worker.js');

/** The file as a former version kept it, if it is still the same. @param {string} name @param {string} hash */
async function unchanged(name, hash) {
  for (const other of await kept()) {
    const former = other.slice(PREFIX.length) + name.slice(VERSION.length);
    const response = await (await caches.open(other)).match(addressOf(former));
    const bytes = await response?.arrayBuffer();
    // Made anew, for the former one would go on to name its own folder as where it comes from.
    if (response && bytes && (await hashOf(bytes)) === hash) return new Response(bytes, { headers: response.headers });
  }
  return null;
}

/** Keeps a file if it is the one of this version: fetched past the browser's own cache, unless it is kept already. @param {Cache} cache @param {string} name @param {string} hash */
async function keep(cache, name, hash) {
  const former = isAnew(name) ? null : await unchanged(name, hash);
  if (former) return cache.put(addressOf(name), former);
  const response = await fetch(addressOf(name), { cache: 'no-cache' });
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  const bytes = await response.clone().arrayBuffer();
  if ((await hashOf(bytes)) !== hash) throw new Error(`${name} is not of version ${VERSION}`);
  // Browsers refuse a page that came by a redirection.
  await cache.put(addressOf(name), response.redirected ? new Response(bytes, { headers: response.headers }) : response);
}

/** Keeps all files, or none: then the former version stays, and the browser tries again later. */
async function install() {
  if (!VERSION) return worker.skipWaiting();
  try {
    const cache = await caches.open(CACHE);
    const { [PAGE]: last, ...others } = FILES;
    await Promise.all(Object.entries(others).map(([name, hash]) => keep(cache, name, hash)));
    // Where the page is kept, all is.
    await keep(cache, PAGE, last);
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

/** Drops the versions that no open page is of: each page holds a lock with the name of its version. */
async function tidy() {
  // What waits, or is still on its way, is newer than this.
  const { installing, waiting } = worker.registration;
  if (installing || waiting) return;
  const { held = [] } = await navigator.locks.query();
  const used = new Set([CACHE, ...held.map(({ name }) => PREFIX + name?.replace(/^leaveline /, ''))]);
  await Promise.all((await kept()).filter((name) => !used.has(name)).map((name) => caches.delete(name)));
}

/** Takes this worker and all that it kept away, and shows the page as the host has it. */
async function leave() {
  await Promise.all((await kept()).map((name) => caches.delete(name)));
  await worker.registration.unregister();
  for (const client of await worker.clients.matchAll({ type: 'window' })) void client.navigate(client.url).catch(() => {});
}

async function activate() {
  if (!VERSION) return leave();
  await tidy();
  await worker.clients.claim();
}

/** The file of this version or, for a page that is still of another, of that one. @param {Request} request */
async function answer(request) {
  const { pathname } = new URL(request.url);
  const door = [PAGE, 'index.html'].some((name) => new URL(addressOf(name)).pathname === pathname);
  const own = await caches.open(CACHE);
  if (request.mode === 'navigate' && door) return (await own.match(addressOf(PAGE))) ?? fetch(request);
  const found = await own.match(request, { ignoreSearch: true });
  if (found) return found;
  for (const name of await kept()) {
    const other = await (await caches.open(name)).match(request, { ignoreSearch: true });
    if (other) return other;
  }
  return fetch(request);
}

worker.addEventListener('install', (event) => event.waitUntil(install()));
worker.addEventListener('activate', (event) => event.waitUntil(activate()));
worker.addEventListener('message', ({ data }) => {
  if (data === 'take') void worker.skipWaiting();
});
worker.addEventListener('fetch', (event) => {
  const { request } = event;
  if (!VERSION || request.method !== 'GET' || !request.url.startsWith(worker.registration.scope)) return;
  if (request.mode === 'navigate') event.waitUntil(tidy());
  event.respondWith(answer(request));
});
