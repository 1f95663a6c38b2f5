// Eye: twenty estimates, by mouse, touch and keyboard; the round is kept, and summed up.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { button, inaccessible, open } from './page.mjs';

const SECOND_PRESS = 450;

const asks = (page) => page.locator('#eye-drawing .eye-handle[tabindex]').waitFor();
const told = (page) => page.waitForFunction(() => document.getElementById('eye-play')?.textContent === 'Next');
const live = (page) => page.locator('#live').textContent();
const number = (page) => page.locator('#eye-title-number').textContent();

async function middle(page) {
  const { x, y, width, height } = await page.locator('#eye-drawing .cloth').boundingBox();
  return [x + width / 2, y + height / 2];
}

/** Drags to the middle of the table, and answers so. */
async function answer(page) {
  await asks(page);
  const [x, y] = await middle(page);
  await page.mouse.move(x - 60, y - 30);
  await page.mouse.down();
  await page.mouse.move(x, y, { steps: 4 });
  await page.mouse.up();
  await button(page, 'Answer').click();
  await told(page);
}

async function next(page) {
  await page.waitForTimeout(SECOND_PRESS);
  await button(page, 'Next').click();
}

test('by mouse: a round of twenty, its truth at once, bias and spread at the end', async () => {
  const { page, close } = await open({ hash: '#eye' });
  for (let k = 1; k <= 20; k += 1) {
    await asks(page);
    assert.equal(await number(page), `${k} of 20`);
    assert.equal(await page.locator('circle.eye-truth').count(), 0, 'the truth is not seen before');
    await answer(page);
    await page.locator('circle.eye-truth').waitFor();
    assert.match(await page.locator('#eye-hint').textContent(), /: it .*(, you said .*)?\d(°.*| lengths?)?\.$/);
    if (k === 2) assert.deepEqual(await inaccessible(page), [], 'answered');
    await next(page);
  }
  await page.locator('#eye-lines .line').first().waitFor();
  assert.equal(await page.locator('#eye-lines .line').count(), 8, 'each kind came');
  const lines = await page.locator('#eye-lines .value').allTextContents();
  assert.ok(lines.every((line) => /(too \w+|right), give or take [\d.]+(°| diamonds?| lengths?)$/.test(line)), lines.join('; '));
  assert.deepEqual(await inaccessible(page), [], 'over');
  await page.waitForTimeout(SECOND_PRESS);
  await page.locator('#eye-play').click();
  await asks(page);
  assert.equal(await number(page), '1 of 20', 'another round');
  await close();
});

test('by keyboard: the handle steps, Enter answers and goes on, and each is heard', async () => {
  const { page, close } = await open({ hash: '#eye' });
  await asks(page);
  const handle = page.getByRole('slider', { name: 'Answer' });
  await handle.focus();
  const before = await handle.getAttribute('aria-valuetext');
  await page.keyboard.press('ArrowLeft');
  await page.waitForFunction((old) => document.querySelector('.eye-handle').getAttribute('aria-valuetext') !== old, before);
  assert.equal(await live(page), await handle.getAttribute('aria-valuetext'), 'the value is heard');
  await page.waitForTimeout(SECOND_PRESS);
  await page.keyboard.press('Enter');
  await told(page);
  assert.equal(await live(page), await page.locator('#eye-hint').textContent(), 'so is the error');
  await page.waitForTimeout(SECOND_PRESS);
  await page.keyboard.press('p');
  await asks(page);
  assert.equal(await number(page), '2 of 20');
  assert.match(await live(page), /^2 of 20\. /);
  await close();
});

test('by touch: a drag shows the spot beside the finger, another mends it, a tap goes on from the answer', async () => {
  const { page, close } = await open({ hash: '#eye', viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  await asks(page);
  const session = await page.context().newCDPSession(page);
  const [x, y] = await middle(page);
  const touch = (type, points) => session.send('Input.dispatchTouchEvent', { type, touchPoints: points });
  await touch('touchStart', [{ x, y }]);
  for (let k = 1; k <= 5; k += 1) await touch('touchMove', [{ x: x + 6 * k, y: y + 9 * k }]);
  await page.locator('#eye-table .loupe').waitFor();
  await touch('touchEnd', []);
  await page.locator('#eye-table .loupe').waitFor({ state: 'detached' });
  await page.locator('#eye-play:enabled').waitFor();
  await page.touchscreen.tap(x - 60, y - 60);
  assert.equal(await page.locator('circle.eye-truth').count(), 0, 'nothing is answered by letting go');
  await button(page, 'Answer').tap();
  await told(page);
  await page.waitForTimeout(SECOND_PRESS);
  await page.touchscreen.tap(x, y);
  await asks(page);
  assert.equal(await number(page), '2 of 20');
  await close();
});

test('what was answered is there again after a reload, and Escape takes a drag back', async () => {
  const { page, close } = await open({ hash: '#eye' });
  await answer(page);
  await next(page);
  await asks(page);
  const task = await page.locator('#eye-hint').textContent();
  await page.reload();
  await asks(page);
  assert.equal(await number(page), '2 of 20');
  assert.equal(await page.locator('#eye-hint').textContent(), task, 'the same estimate is asked');
  await page.locator('.eye-handle').focus();
  await page.keyboard.press('ArrowLeft');
  await page.waitForFunction(() => document.getElementById('eye-play')?.disabled === false);
  await page.keyboard.press('Escape');
  await page.waitForFunction(() => document.getElementById('eye-play').disabled);
  await close();
});
