// A released page is kept by its service worker, version by version. Tells when a newer one is ready.

import { byId, html } from './dom.js';
import { press } from './panels/dialog.js';

/** The page's folder. */
const ROOT = new URL('./', location.href);

/** Asks the host for a newer version at most so often, ms. */
const EVERY = 600_000;

/** A bar that stays until the user decides. @param {() => void} take */
function offer(take) {
  if (document.getElementById('update')) return;
  const bar = html('div', { class: 'notice update', id: 'update', role: 'status' });
  document.body.append(bar);
  // What is put into a status line after it stands there is spoken.
  bar.append(html('p', {}, 'A new version is ready.'), press('Load it', take), press('Later', () => bar.remove()));
}

/** Says in the small print which version this is, and whether it is kept. @param {string} version */
async function tell(version) {
  const line = byId('version', HTMLElement);
  line.hidden = false;
  line.textContent = `Version ${version}.`;
  await navigator.serviceWorker.ready;
  const name = (await caches.keys()).find((one) => one.endsWith(` ${version}`));
  // The page is kept last of all.
  if (name && (await caches.match(ROOT, { cacheName: name }))) line.textContent += ' It is kept on this device and opens without a network.';
}

/** @param {string} version Of this page. @param {Promise<void>} loaded Settles once the page is at rest: what is to be kept must not take its network. */
export async function startOffline(version, loaded) {
  const { serviceWorker } = navigator;
  // Held as long as the page is open, so that its files are kept as long.
  void navigator.locks.request(`leaveline ${version}`, { mode: 'shared' }, () => new Promise(() => {}));
  await loaded.catch(() => {});
  tell(version).catch(() => {});
  const registration = await serviceWorker.register(new URL('sw.js', ROOT), { scope: ROOT.href, updateViaCache: 'none' });
  let wanted = false;

  function take() {
    wanted = true;
    // Another page may have taken it already: then there is nothing left to wait for.
    if (registration.waiting) registration.waiting.postMessage('take');
    else location.reload();
  }
  const ready = () => registration.waiting && serviceWorker.controller && offer(take);
  const watch = () => registration.installing?.addEventListener('statechange', ready);

  // A page that is controlled for the first time is of that version; later ones come because some page took an update.
  let controlled = serviceWorker.controller !== null;
  serviceWorker.addEventListener('controllerchange', () => {
    if (wanted) location.reload();
    else if (controlled) offer(take);
    controlled = true;
  });
  registration.addEventListener('updatefound', watch);
  watch();
  ready();

  let asked = performance.now();
  document.addEventListener('visibilitychange', () => {
    if (document.hidden || performance.now() - asked < EVERY) return;
    asked = performance.now();
    // Without a network there is nothing newer to find.
    registration.update().catch(() => {});
  });
}
