// The released page: without a network, while a newer version comes, where there is no room, and as something installed.
import assert from 'node:assert/strict';
import { appendFile, cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { chromium } from 'playwright-core';
import { leaveItem, seeded } from './core.mjs';
import { button, call, dealt, draw, handles, inaccessible, launch, layout, open, play } from './page.mjs';
import { WWW, host, kept, update, versionOf } from './released.mjs';

const notice = (page) => page.getByRole('status').filter({ hasText: 'A new version is ready' });
const sheets = (page) => page.getByRole('dialog', { name: 'Sheets to print' });

/** Opens what is loaded last of all: the sheets to print. */
async function print(page) {
  await button(page, 'Share').click();
  await page.getByRole('button', { name: 'Print…' }).click();
  await sheets(page).getByRole('status').filter({ hasText: '1 sheet' }).waitFor();
  await page.keyboard.press('Escape');
  await sheets(page).waitFor({ state: 'detached' });
}

/** Every part, one after the other, each with its table. */
async function openParts(page) {
  for (const part of ['Leave', 'Bench', 'Clear', 'Eye', 'Read']) {
    await page.getByRole('link', { name: part, exact: true }).click();
    await page.locator(`#${part.toLowerCase()}-table .ball.cue`).waitFor();
  }
}

/** Opens a host's page, and notes what it and its workers ask for. */
async function visit(place, hash = '') {
  const opened = await open({ place: { url: place.url }, hash });
  const asked = [];
  opened.context.on('request', (request) => {
    // What the service worker fetches by itself is a version to come.
    if (request.serviceWorker() === null && request.url().startsWith(place.url)) asked.push(request.url().slice(place.url.length));
  });
  await dealt(opened.page);
  return { ...opened, asked };
}

/** What of the asked files is of a version other than this. */
const foreign = (asked, version) => asked.filter((name) => /\.(js|css|wasm)$/.test(name) && name !== 'sw.js' && !name.startsWith(`${version}/`));

test('after one visit everything works without a network: parts, links, play, sheets', async () => {
  const place = await host();
  const version = await place.publish('1.0.0');
  const { page, another, asked, close } = await visit(place);
  await kept(page);
  await place.down();
  await page.reload();
  await dealt(page);
  assert.equal(await versionOf(page), version);
  await openParts(page);
  await print(page);
  const leave = await another(place.url + leaveItem(2, 5).hash);
  await leave.locator('#leave-table .ball.cue').waitFor();
  await leave.close();
  const { hash, truth } = seeded(3, 5);
  const read = await another(place.url + hash);
  await dealt(read);
  await draw(read, truth);
  await play(read);
  assert.equal(await read.locator('#read-mark').textContent(), '100');
  assert.deepEqual(foreign(asked, version), []);
  await close();
  await place.up();
  await place.close();
});

test('an update waits for the player: the old page stays whole, the new one is new throughout, nothing is lost', async () => {
  const place = await host();
  const first = await place.publish('1.0.0');
  const { page, another, asked, close } = await visit(place);
  await kept(page);
  await draw(page);
  const [item, called] = [await layout(page), await call(page)];

  const second = await place.publish('1.1.0');
  assert.notEqual(second, first);
  assert.equal(await update(page), 'installed');
  await notice(page).waitFor();
  assert.deepEqual(await inaccessible(page), [], 'with the notice');
  const other = await another();
  await dealt(other);
  for (const one of [page, other]) assert.equal(await versionOf(one), first, 'nobody took the update yet');
  await print(page);
  assert.deepEqual(foreign(asked, first), [], 'the host has nothing of the first version any more');

  // The old page goes on fetching its parts until it is gone.
  page.once('framenavigated', () => (asked.length = 0));
  await button(page, 'Load it').click();
  await page.locator(`meta[content="${second}"]`).waitFor({ state: 'attached' });
  await dealt(page);
  await handles(page).nth(called.length - 1).waitFor();
  assert.deepEqual([await layout(page), await call(page)], [item, called]);
  await openParts(page);
  await print(page);
  assert.deepEqual(foreign(asked, second), []);
  await kept(page);

  assert.equal(await versionOf(other), first);
  await print(other);
  await notice(other).waitFor();
  await button(other, 'Load it').click();
  await other.locator(`meta[content="${second}"]`).waitFor({ state: 'attached' });
  await dealt(other);
  await place.down();
  await other.reload();
  await dealt(other);
  assert.equal(await versionOf(other), second);
  const caches = await other.evaluate(() => globalThis.caches.keys());
  assert.ok(caches.length === 1 && caches[0].endsWith(second), `the first version is gone: ${caches}`);
  await close();
  await place.up();
  await place.close();
});

test('an update fetches only what has changed', async () => {
  const place = await host();
  await place.publish('1.0.0');
  const { page, close } = await visit(place);
  await kept(page);
  const second = await place.publish('1.1.0');
  // Were they fetched, the update would not be whole.
  for (const name of ['pkg/leaveline_bg.wasm', 'pkg/read_bg.wasm', 'js/main.js']) await rm(join(place.site, second, name));
  assert.equal(await update(page), 'installed');
  await button(page, 'Load it').click();
  await page.locator(`meta[content="${second}"]`).waitFor({ state: 'attached' });
  await dealt(page);
  await place.down();
  await openParts(page);
  await close();
  await place.up();
  await place.close();
});

test('a half-published update leaves the old version as it is, and comes when it is whole', async () => {
  const place = await host();
  const first = await place.publish('1.0.0');
  const { page, close, errors } = await visit(place);
  await kept(page);
  for (const spoil of [(second) => rm(join(place.site, second, 'js/engine/worker.js')), (second) => appendFile(join(place.site, second, 'js/engine/worker.js'), '/* of another build */')]) {
    const second = await place.publish('1.1.0');
    await spoil(second);
    assert.equal(await update(page), 'redundant', 'it is not taken');
    assert.equal(await notice(page).count(), 0);
    await place.down();
    await page.reload();
    await dealt(page);
    assert.equal(await versionOf(page), first);
    await openParts(page);
    await print(page);
    await place.up();
  }
  // What is missing is told on the console, and nowhere else.
  errors.splice(0, errors.length, ...errors.filter((one) => !/404|Failed to load resource/.test(one)));
  const second = await place.publish('1.1.0');
  assert.equal(await update(page), 'installed');
  await button(page, 'Load it').click();
  await page.locator(`meta[content="${second}"]`).waitFor({ state: 'attached' });
  await dealt(page);
  await close();
  await place.close();
});

test('where there is no room the page works with a network, and does not say that it is kept', async () => {
  const place = await host();
  await place.publish('1.0.0');
  const browser = await launch();
  const context = await browser.newContext();
  const page = await context.newPage();
  const control = await context.newCDPSession(page);
  await control.send('Storage.overrideQuotaForOrigin', { origin: new URL(place.url).origin, quotaSize: 200_000 });
  const ended = page.waitForEvent('console', { predicate: (message) => message.text() === 'ended', timeout: 30_000 });
  await page.addInitScript(() => {
    const { register } = ServiceWorkerContainer.prototype;
    ServiceWorkerContainer.prototype.register = async function (...rest) {
      const registration = await register.apply(this, rest);
      const { installing } = registration;
      installing?.addEventListener('statechange', () => installing.state === 'redundant' && console.log('ended'));
      return registration;
    };
  });
  await page.goto(place.url);
  await dealt(page);
  await ended;
  await draw(page);
  await play(page);
  await openParts(page);
  assert.match(await page.locator('#version').textContent(), /^Version 1\.0\.0-[0-9a-f]{12}\.$/);
  // The call that was played finds no room either, which the Log says; nothing else is said.
  assert.match(await page.locator('#notice-text').textContent(), /^(The storage of this browser is full: your latest calls are held\..*)?$/);
  assert.deepEqual(await page.evaluate(() => caches.keys()), []);
  await browser.close();
  await place.close();
});

test('who works on the page is not shown what was released at the same address', async () => {
  const place = await host();
  await place.publish('1.0.0');
  const { page, close } = await visit(place);
  await kept(page);
  await rm(place.site, { recursive: true });
  await cp(WWW, place.site, { recursive: true });
  await page.reload();
  await page.locator('meta[name="version"]').waitFor({ state: 'detached' });
  await dealt(page);
  assert.deepEqual(await page.evaluate(async () => [(await navigator.serviceWorker.getRegistrations()).length, (await caches.keys()).length]), [0, 0]);
  await close();
  await place.close();
});

test('Chromium finds the page fit to be installed', async () => {
  const place = await host();
  await place.publish('1.0.0');
  const folder = await mkdtemp(join(tmpdir(), 'leaveline-profile-'));
  const context = await chromium.launchPersistentContext(folder, { executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox', '--disable-dev-shm-usage'] });
  const [page] = context.pages();
  await page.goto(place.url);
  await kept(page);
  const control = await context.newCDPSession(page);
  const { url, errors, data } = await control.send('Page.getAppManifest');
  const { installabilityErrors } = await control.send('Page.getInstallabilityErrors');
  assert.deepEqual([url, errors, installabilityErrors], [`${place.url}manifest.webmanifest`, [], []]);
  const manifest = JSON.parse(data);
  assert.deepEqual([manifest.name, manifest.display], ['Leaveline', 'standalone']);
  assert.equal(new URL(manifest.start_url, url).href, place.url);
  for (const { src, sizes } of manifest.icons.filter(({ type }) => type === 'image/png')) {
    const side = await page.evaluate(async (icon) => (await createImageBitmap(await (await fetch(icon)).blob())).width, new URL(src, url).href);
    assert.equal(`${side}x${side}`, sizes, src);
  }
  await context.close();
  await rm(folder, { recursive: true, force: true });
  await place.close();
});
