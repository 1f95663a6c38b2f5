// Who is new here has an item before the core is there, and the core grades the call on it.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { FIRST } from '../../www/pkg/first.js';
import { seeded } from './core.mjs';
import { button, call, dealt, draw, grade, handles, layout, notice, open, play, spot } from './page.mjs';

const { item } = FIRST.question;
const { truth } = seeded(item.level, item.seed);
const hint = (page, text) => page.locator('#read-hint').filter({ hasText: text }).waitFor();

/** Opens the page on a network that brings no core until it is let through, or none at all. */
async function without(lets = true) {
  let go = () => {};
  const held = new Promise((done) => (go = done));
  const before = (context) =>
    context.route(/\.wasm$/, async (route) => {
      await held;
      await (lets ? route.continue() : route.abort());
    });
  return { ...(await open({ before })), go };
}

test('a newcomer calls before the core is there, is told what Play waits for, and is graded by the core', async () => {
  const { page, go, close } = await without();
  await dealt(page);
  assert.deepEqual(await layout(page), FIRST.question.balls.map(({ words }) => words));
  await page.waitForURL((url) => url.hash === `#${FIRST.link}`);
  await page.getByRole('combobox', { name: 'Level' }).locator('option').nth(5).waitFor({ state: 'attached' });
  await draw(page, truth, false);
  assert.match((await call(page)).at(-1), /still to be read/);
  await button(page, 'Play').click();
  await hint(page, 'as soon as its model is loaded');
  go();
  await grade(page).waitFor();
  assert.equal(await page.locator('#read-mark').textContent(), '100');
  await close();
});

test('what is pressed before the rest of the page is there is done when it is', async () => {
  let go = () => {};
  const held = new Promise((done) => (go = done));
  const before = (context) => context.route(/\/js\/main\.js$/, async (route) => {
    await held;
    await route.continue();
  });
  const { page, close } = await open({ before });
  await dealt(page);
  await page.mouse.click(...(await spot(page, [1.4, 0.85])));
  await handles(page).nth(0).waitFor();
  await page.locator('#read-drawing [data-handle="ghost"]').focus();
  await page.keyboard.press('Enter');
  await handles(page).nth(1).waitFor();
  await button(page, 'Share').click();
  await button(page, 'Share').click();
  go();
  await page.getByRole('dialog', { name: 'Share this item' }).waitFor();
  assert.equal(await handles(page).count(), 2, 'the points stand');
  await button(page, 'Done').click();
  await play(page);
  await close();
});

test('points are read when the core comes, and a reload keeps them', async () => {
  const { page, go, close } = await without();
  await dealt(page);
  await draw(page, [[1.9, 0.02], [1.4, 0.85]], false);
  go();
  await page.getByRole('button', { name: /Point 1 of 2: .*right rail/ }).waitFor();
  const called = await call(page);
  assert.doesNotMatch(called.join(), /still to be read/);
  await page.reload();
  await handles(page).nth(1).waitFor();
  assert.deepEqual(await call(page), called);
  await button(page, 'Deal').click();
  await handles(page).nth(0).waitFor({ state: 'detached' });
  assert.notDeepEqual(await layout(page), FIRST.question.balls.map(({ words }) => words), 'the next is the core’s own');
  await close();
});

test('where the core never comes that is said, and the call stands', async () => {
  const { page, go, errors, close } = await without(false);
  await dealt(page);
  await draw(page, truth, false);
  go();
  await notice(page).filter({ hasText: /\w/ }).waitFor();
  await button(page, 'Play').waitFor();
  assert.equal(await handles(page).count(), truth.length);
  errors.length = 0;
  await close();
});

test('a link and a kept item come before the first one', async () => {
  const { hash, question } = seeded(3, 5);
  const { page, url, another, close } = await open({ hash });
  await dealt(page);
  const words = question.balls.map((ball) => ball.words);
  assert.deepEqual(await layout(page), words);
  await page.close();
  const next = await another(url);
  await dealt(next);
  assert.deepEqual(await layout(next), words);
  await close();
});
