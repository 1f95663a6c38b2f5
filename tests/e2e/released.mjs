// A released page on a host of its own, deep in a path: it can be taken off the network, and be updated.
import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after } from 'node:test';
import { fileURLToPath } from 'node:url';
import { release } from '../../scripts/release.mjs';
import { serve } from '../../scripts/serve.mjs';

export const WWW = fileURLToPath(new URL('../../www', import.meta.url));
const DEEP = ['some', 'deep', 'path'];

const left = new Set();
after(() => Promise.all([...left].map((close) => close())));

/** A host, on the network at first. */
export async function host() {
  const folder = await mkdtemp(join(tmpdir(), 'leaveline-host-'));
  const site = join(folder, ...DEEP);
  await mkdir(join(folder, ...DEEP.slice(0, -1)), { recursive: true });
  let server = await serve(folder, 0);
  const { port } = server;
  const down = () => server.close();
  const close = async () => {
    left.delete(close);
    await down();
    await rm(folder, { recursive: true });
  };
  left.add(close);
  return {
    url: `${server.url}${DEEP.join('/')}/`,
    site,
    down,
    async up() {
      server = await serve(folder, port);
    },
    close,
    /** Puts a version there, and takes what was there away. @param {string} number */
    publish: async (number) => (await release(WWW, site, number)).version,
  };
}

/** The version that a page says it is of. */
export const versionOf = (page) => page.locator('meta[name="version"]').getAttribute('content');

/** Waits until the version of a page is kept on the device, and says so. */
export const kept = (page) => page.locator('#version').filter({ hasText: /kept on this device/ }).waitFor({ state: 'attached' });

/** Lets the browser look for a newer version; gives how the worker that it found ended up, or null if there is none. */
export const update = (page) =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    await registration.update().catch(() => {});
    const found = registration.installing;
    if (!found) return registration.waiting ? 'installed' : null;
    return new Promise((done) => found.addEventListener('statechange', () => done(found.state)));
  });
