// When the core traps, hangs, or does not load, its worker is replaced and the page keeps what it has.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { isDeepStrictEqual } from 'node:util';
import { button, call, dealt, draw, grade, handles, layout, notice, open, play, stage } from './page.mjs';

const GLUE = 'pkg/read.js';
/** Puts `first` at the start of the exported function `name`. */
const before = (name, first) => (text) => text.replace(new RegExp(`(export function ${name}\\([^)]*\\) \\{)`), `$1 ${first}`);

for (const [what, first] of [
  ['traps', "throw new WebAssembly.RuntimeError('unreachable');"],
  ['overflows', "throw new RangeError('Maximum call stack size exceeded');"],
  ['hangs', 'for (;;);'],
]) {
  test(`a core that ${what} is replaced, and the call is still there`, async () => {
    const place = await stage();
    if (what === 'hangs') await place.change('js/engine/client.js', (text) => text.replace('10_000', '700'));
    await place.change(GLUE, before('grade', first));
    const { page, close } = await open({ place });
    await dealt(page);
    await draw(page);
    const [item, called] = [await layout(page), await call(page)];
    await button(page, 'Play').click();
    await notice(page).filter({ hasText: /started afresh/ }).waitFor();
    assert.deepEqual([await layout(page), await call(page)], [item, called]);
    await place.mend();
    await play(page);
    await close();
    await place.close();
  });
}

test('a core that does not load is named once it is needed, and loads on the next try', async () => {
  const place = await stage();
  await place.change(GLUE, () => 'export default async function init() { throw new TypeError("Failed to fetch"); }');
  const { page, close } = await open({ place });
  await dealt(page);
  await button(page, 'Deal').click();
  await notice(page).filter({ hasText: /could not be loaded/ }).waitFor();
  await place.mend();
  const first = await layout(page);
  await button(page, 'Deal').click();
  while (isDeepStrictEqual(await layout(page), first)) await page.waitForTimeout(50);
  await draw(page);
  await play(page);
  await grade(page).waitFor();
  await close();
  await place.close();
});

test('a deal that takes long is said, and a second press waits for it', async () => {
  const place = await stage();
  const { page, close } = await open({ place });
  await dealt(page);
  await draw(page);
  const first = await layout(page);
  await place.change(GLUE, before('deal', 'for (const start = Date.now(); Date.now() - start < 900; );'));
  await page.reload();
  await handles(page).nth(2).waitFor();
  await button(page, 'Deal').click();
  await page.locator('#read-hint', { hasText: 'Setting up the table…' }).waitFor();
  assert.equal(await button(page, 'Deal').getAttribute('aria-busy'), 'true');
  assert.deepEqual(await layout(page), first, 'the item before stays until then');
  await button(page, 'Deal').click();
  await handles(page).nth(0).waitFor({ state: 'detached' });
  const second = await layout(page);
  await page.locator('#read-deal[aria-busy="false"]').waitFor();
  await page.waitForTimeout(1200);
  assert.deepEqual(await layout(page), second, 'one item was dealt, not two');
  await close();
  await place.close();
});

test('a part that does not load is named, the one before stays, and a later load opens it', async () => {
  const place = await stage();
  const { page, url, errors, close } = await open({ place, init: () => (globalThis.requestIdleCallback = () => 0) });
  await dealt(page);
  await draw(page);
  const item = await layout(page);
  await page.route(/\/js\/leave\/state\.js$/, (route) => route.abort());
  await page.getByRole('link', { name: 'Leave' }).click();
  await notice(page).filter({ hasText: 'Leave could not be loaded. Check the connection, then load the page again.' }).waitFor();
  assert.deepEqual(await layout(page), item, 'Read stays');
  await button(page, 'Close the message').click();
  await play(page);
  await page.unroute(/\/js\/leave\/state\.js$/);
  assert.equal(new URL(page.url()).hash, '#leave');
  await page.reload();
  await page.locator('#leave-drawing .ball').first().waitFor();
  errors.splice(0, errors.length, ...errors.filter((error) => !/net::ERR_FAILED/.test(error)));
  await page.goto('about:blank');

  // Nothing else is there yet: the message stands on the empty sheet, and the other parts can be opened.
  await page.route(/\/css\/zone\.css$/, (route) => route.abort());
  await page.goto(`${url}#bench`);
  await notice(page).filter({ hasText: /^Bench could not be loaded/ }).waitFor();
  await page.getByRole('link', { name: 'Read' }).click();
  await dealt(page);
  errors.splice(0, errors.length, ...errors.filter((error) => !/net::ERR_FAILED/.test(error)));
  await close();
  await place.close();
});

test('the other parts are loaded only once the open one is there', async () => {
  const place = await stage();
  const { page, close } = await open({ place });
  const asked = [];
  page.on('request', (request) => asked.push(new URL(request.url()).pathname));
  await page.reload();
  await dealt(page);
  await page.waitForFunction(() => performance.getEntriesByName(new URL('js/bench/part.js', location.href).href).length > 0);
  const at = (name) => asked.findIndex((path) => path.startsWith(name));
  while (at('/pkg/leaveline_bg.wasm') < 0) await page.waitForTimeout(50);
  assert.ok(at('/js/read/') < at('/js/leave/') && at('/js/read/') < at('/js/bench/'), asked.join(' '));
  assert.ok(at('/pkg/read_bg.wasm') >= 0 && at('/pkg/read_bg.wasm') < at('/js/leave/'), 'the small core comes before what is not open');
  assert.ok(at('/pkg/read_bg.wasm') < at('/pkg/leaveline_bg.wasm'), 'the whole core is fetched ahead, later');
  await close();
  await place.close();
});
