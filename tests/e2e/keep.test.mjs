// What survives: a reload, the back button, another tab, a storage that keeps nothing.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { button, call, dealt, draw, grade, handles, layout, notice, open, play } from './page.mjs';

test('a reload keeps the item, the call, and that it was played', async () => {
  const { page, url, another, close } = await open();
  await dealt(page);
  await draw(page);
  const [item, called] = [await layout(page), await call(page)];
  await page.reload();
  await handles(page).nth(2).waitFor();
  assert.deepEqual(await layout(page), item);
  assert.deepEqual(await call(page), called);
  await play(page);
  const mark = await page.locator('#read-mark').textContent();
  await page.reload();
  await grade(page).waitFor();
  assert.equal(await page.locator('#read-mark').textContent(), mark);
  await page.close();
  const next = await another(url);
  await grade(next).waitFor();
  assert.equal(await next.locator('#read-mark').textContent(), mark, 'tomorrow all is there');
  await close();
});

test('the back button goes to the item before, with its call', async () => {
  const { page, close } = await open();
  await dealt(page);
  await draw(page);
  const [item, called] = [await layout(page), await call(page)];
  await button(page, 'Deal').click();
  await handles(page).nth(0).waitFor({ state: 'detached' });
  const second = await layout(page);
  assert.notDeepEqual(second, item);
  await page.goBack();
  await handles(page).nth(2).waitFor();
  assert.deepEqual(await layout(page), item);
  assert.deepEqual(await call(page), called);
  await page.goForward();
  await handles(page).nth(0).waitFor({ state: 'detached' });
  assert.deepEqual(await layout(page), second);
  await close();
});

test('two tabs each keep their own item', async () => {
  const { page, another, close } = await open();
  await dealt(page);
  await draw(page);
  const [one, called] = [await layout(page), await call(page)];
  const tab = await another();
  await handles(tab).nth(2).waitFor();
  await button(tab, 'Deal').click();
  await handles(tab).nth(0).waitFor({ state: 'detached' });
  const other = await layout(tab);
  await page.reload();
  await tab.reload();
  await handles(page).nth(2).waitFor();
  await dealt(tab);
  assert.deepEqual([await layout(page), await call(page)], [one, called]);
  assert.deepEqual(await layout(tab), other);
  await close();
});

test('a kept item that was spoilt is refused in words, and a fresh one dealt', async () => {
  const { page, url, close } = await open();
  await dealt(page);
  await draw(page);
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem('leaveline.read'));
    kept.entries.at(-1).item.shot.balls[0].x = 'far';
    localStorage.setItem('leaveline.read', JSON.stringify(kept));
  });
  await page.goto('about:blank');
  await page.goto(url);
  await notice(page).filter({ hasText: /cannot be opened/ }).waitFor();
  await dealt(page);
  await draw(page);
  await play(page);

  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem('leaveline.read'));
    kept.entries.at(-1).points = [{ x: null, y: 3 }];
    localStorage.setItem('leaveline.read', JSON.stringify(kept));
  });
  await page.goto('about:blank');
  await page.goto(url);
  await notice(page).filter({ hasText: /left out/ }).waitFor();
  await dealt(page);

  await page.evaluate(() => localStorage.setItem('leaveline.read', '{"version":'));
  await page.goto('about:blank');
  await page.goto(url);
  await notice(page).filter({ hasText: /cannot be read/ }).waitFor();
  await dealt(page);
  await close();
});

for (const [what, init] of [
  ['blocked', () => Object.defineProperty(globalThis, 'localStorage', { get: () => { throw new DOMException('no', 'SecurityError'); } })],
  ['full', () => (Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); })],
]) {
  test(`with storage ${what} the page says so and works`, async () => {
    const { page, close } = await open({ init });
    await dealt(page);
    await notice(page).filter({ hasText: /keeps nothing/ }).waitFor();
    await button(page, 'Close the message').click();
    await draw(page);
    await play(page);
    assert.ok(await notice(page).isHidden(), 'it is said once');
    await close();
  });
}
