// The Bench: set up, try, measure, by mouse, by touch, by keyboard; and the parts on the one page.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { button, dealt, draw, handles, inaccessible, layout, open, pasted } from './page.mjs';

const BALLS = /^(cue|\d+) ball, /;
const balls = (page) => page.getByRole('button', { name: BALLS });
const words = (page) => balls(page).evaluateAll((all) => all.map((one) => one.getAttribute('aria-label')));
const hint = (page) => page.locator('#bench-hint');
const set = async (page) => {
  await balls(page).nth(2).waitFor();
  await page.locator('.margin').nth(3).waitFor();
};
const opened = async (options = {}) => {
  const all = await open({ hash: '#bench', ...options });
  await set(all.page);
  return all;
};

/** Where a place on the Bench's table (m) is on the screen. */
const spot = (page, place) =>
  page.evaluate(([a, b]) => {
    const at = new DOMPoint(1000 * a, 1000 * b).matrixTransform(document.querySelector('#bench-drawing > g').getScreenCTM());
    return [at.x, at.y];
  }, place);

/** The path of the cue ball as it is drawn. */
const path = (page) => page.locator('#bench-drawing path.real').getAttribute('d');

async function drag(page, from, to, steps = 6) {
  await page.mouse.move(...(await spot(page, from)));
  await page.mouse.down();
  await page.mouse.move(...(await spot(page, to)), { steps });
}

/** Waits until what `read` gives differs from `before`. */
async function changed(read, before) {
  for (let k = 0; k < 100; k++) {
    const now = await read();
    if (now !== before) return now;
    await new Promise((done) => setTimeout(done, 30));
  }
  assert.fail(`nothing changed: ${before}`);
}

test('parts: each has its address and its state, and the back button goes between them', async () => {
  const { page, url, close } = await open();
  await dealt(page);
  await draw(page);
  const item = await layout(page);
  await page.getByRole('link', { name: 'Bench' }).click();
  await set(page);
  assert.equal(new URL(page.url()).hash, '#bench');
  assert.equal(await page.title(), 'Leaveline: Bench');
  assert.equal(await page.getByRole('link', { name: 'Bench' }).getAttribute('aria-current'), 'page');
  assert.ok(await page.locator('#read-table').isHidden(), 'only one part is seen');
  await page.keyboard.press('m');
  await page.goBack();
  await handles(page).nth(2).waitFor();
  assert.deepEqual(await layout(page), item);
  assert.equal(await page.title(), 'Leaveline: Read');
  await page.goForward();
  await set(page);
  const there = await words(page);
  await page.goto('about:blank');
  await page.goto(url);
  await set(page);
  assert.deepEqual(await words(page), there, 'the part that was open last opens again, as it was');
  await close();
});

test('by mouse: balls, aim, pocket, tip, speed, zone, undo, mirror, ten times', async () => {
  const { page, close } = await opened();
  const start = await words(page);
  await hint(page).filter({ hasText: /The 1 falls in the foot-left pocket/ }).waitFor();

  // A ball: the path is live while it is dragged, and it snaps to a half diamond.
  const before = await path(page);
  await drag(page, [1.905, 0.3175], [1.6, 0.64]);
  await page.mouse.up();
  await page.getByRole('button', { name: /^2 ball, diamond 5 from the head, 2 from the right/ }).waitFor();
  await drag(page, [0.635, 0.635], [0.7, 0.9]);
  const during = await changed(() => path(page), before);
  await page.mouse.up();
  assert.notEqual(during, before, 'the path follows the ball that is dragged');
  await hint(page).filter({ hasText: /The 1 falls in the foot-left pocket/ }).waitFor();

  await button(page, 'Undo').click();
  await button(page, 'Undo').click();
  await page.waitForFunction((old) => [...document.querySelectorAll('#bench-drawing .ball')].every((ball, k) => ball.getAttribute('aria-label') === old[k]), start);
  assert.ok(await button(page, 'Undo').isDisabled());
  await button(page, 'Redo').click();
  await page.getByRole('button', { name: /^2 ball, diamond 5 from the head/ }).waitFor();

  // Another pocket, then the aim by hand: it misses.
  await page.mouse.click(...(await spot(page, [2.56, -0.02])));
  await hint(page).filter({ hasText: /foot-right|not|cannot|thin|angle/i }).waitFor();
  const cue = await page.locator('.aim-end .ring').boundingBox();
  await page.mouse.move(cue.x + cue.width / 2, cue.y + cue.height / 2);
  const aimed = await path(page);
  await page.mouse.down();
  await page.mouse.move(cue.x + 10, cue.y + 90, { steps: 5 });
  await page.mouse.up();
  await changed(() => path(page), aimed);

  // Tip and speed.
  const face = await page.locator('#bench-face').boundingBox();
  const stroke = page.locator('#bench-words');
  await page.mouse.click(face.x + 0.5 * face.width, face.y + 0.68 * face.height);
  await stroke.filter({ hasText: /low/i }).waitFor();
  const ruler = await page.locator('#bench-ruler').boundingBox();
  const speed = await stroke.textContent();
  await page.mouse.click(ruler.x + 0.4 * ruler.width, ruler.y + 0.3 * ruler.height);
  await changed(() => stroke.textContent(), speed);

  // A zone: made, sized, drawn anew.
  await button(page, 'Zone').click();
  const zone = page.getByRole('button', { name: /^Zone: / });
  await zone.waitFor();
  const end = await page.locator('.zone-grip.long').boundingBox();
  const shape = await zone.getAttribute('aria-label');
  await page.mouse.move(end.x + end.width / 2, end.y + end.height / 2);
  await page.mouse.down();
  await page.mouse.move(end.x + 60, end.y, { steps: 4 });
  await page.mouse.up();
  await changed(() => zone.getAttribute('aria-label'), shape);
  await button(page, 'Zone').click();
  await drag(page, [0.3, 0.2], [0.8, 0.4]);
  await page.mouse.up();
  await page.getByRole('button', { name: /^Zone: .* 50 by 20 cm/ }).waitFor();

  const left = await words(page);
  await button(page, 'Mirror left to right').click();
  await changed(async () => (await words(page)).join(), left.join());
  await button(page, 'Play ten').click();
  await page.locator('.ten').nth(9).waitFor();
  await hint(page).filter({ hasText: /Ten strokes: \d+ potted, \d+ as called/ }).waitFor();
  await close();
});

test('by keyboard alone: balls from the tray, places typed, what is asked, aim, stroke, zone', async () => {
  const { page, close } = await opened();
  await page.keyboard.press('b');
  const tray = page.getByRole('dialog', { name: 'Balls on the table' });
  await tray.getByRole('button', { name: '9 ball', exact: true }).press('Enter');
  await page.locator('#bench-drawing .ball').nth(3).waitFor();
  await tray.getByRole('combobox', { name: 'Ball' }).selectOption('9 ball');
  await tray.getByLabel(/From the head/).fill('2,5');
  await tray.getByLabel(/From the right/).fill('1');
  await page.keyboard.press('Enter');
  await tray.getByRole('status').filter({ hasText: /9 ball, diamond 2.5 from the head, 1 from the right/ }).waitFor();
  await page.keyboard.press('Escape');

  const nine = page.getByRole('button', { name: /^9 ball/ });
  await nine.focus();
  const before = await nine.getAttribute('transform');
  await page.keyboard.press('ArrowRight');
  await changed(() => nine.getAttribute('transform'), before);
  await page.keyboard.press('Enter');
  await page.keyboard.press('e');
  await page.getByRole('button', { name: /^9 ball.*the next ball/ }).waitFor();
  await page.keyboard.press('Delete');
  await nine.waitFor({ state: 'detached' });

  await page.keyboard.press('a');
  const ask = page.getByRole('dialog', { name: 'What is called' });
  await ask.getByLabel('Ball on').selectOption('2 ball');
  await ask.getByRole('button', { name: 'left', exact: true }).press('Enter');
  await ask.getByRole('status').filter({ hasText: /^Pot the 2.*, go off the left rail/ }).waitFor();
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: /^2 ball.*the ball on/ }).waitFor();

  await page.getByRole('button', { name: 'Aim at the foot right pocket' }).press('Enter');
  await hint(page).filter({ hasText: /The 2 falls in the foot-right pocket/ }).waitFor();
  await page.getByRole('button', { name: 'Aim at the foot right pocket' }).press('Enter');
  await hint(page).filter({ hasText: /^At the right end of what still falls/ }).waitFor();
  const stroke = page.locator('#bench-words');
  const speed = page.getByRole('slider', { name: 'Speed' });
  const was = await stroke.textContent();
  await speed.press('ArrowUp');
  const faster = await changed(() => stroke.textContent(), was);
  await page.getByRole('slider', { name: 'Tip on the cue ball' }).press('ArrowDown');
  await changed(() => stroke.textContent(), faster);
  const aim = page.getByRole('slider', { name: 'Aim' });
  const turned = await aim.getAttribute('aria-valuenow');
  await aim.press('ArrowLeft');
  await changed(() => aim.getAttribute('aria-valuenow'), turned);

  await page.keyboard.press('z');
  const zone = page.getByRole('button', { name: /^Zone: / });
  await zone.waitFor();
  await zone.focus();
  let shape = await zone.getAttribute('aria-label');
  for (const key of ['ArrowRight', '+', 'Shift+-', ']']) {
    await page.keyboard.press(key);
    shape = await changed(() => zone.getAttribute('aria-label'), shape);
  }
  assert.match(await page.locator('#live').textContent(), /^Zone: .* turned 5°/, 'the zone is told');
  await page.keyboard.press('Delete');
  await zone.waitFor({ state: 'detached' });
  await page.keyboard.press('Control+z');
  await zone.waitFor();
  await page.locator('#bench-title-task').filter({ hasText: /leave the cue ball in the zone/ }).waitFor();
  await page.keyboard.press('t');
  const typed = page.getByRole('dialog', { name: 'Type the zone' });
  await typed.getByLabel('From the head').fill('2');
  await page.keyboard.press('Enter');
  await typed.getByRole('status').filter({ hasText: /^Zone: diamond 2 from the head/ }).waitFor();
  await close();
});

test('by touch: a ball is dragged with the spot shown beside the finger', async () => {
  const { page, context, close } = await opened({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const touch = await context.newCDPSession(page);
  const send = (type, at) => touch.send('Input.dispatchTouchEvent', { type, touchPoints: at ? [{ x: at[0], y: at[1] }] : [] });
  const before = (await words(page)).join();
  const [from, to] = [await spot(page, [1.905, 0.3175]), await spot(page, [1.4, 0.7])];
  await send('touchStart', from);
  await send('touchMove', [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]);
  await send('touchMove', to);
  await page.locator('#bench-table .loupe[visibility="visible"]').waitFor();
  await send('touchEnd');
  await changed(async () => (await words(page)).join(), before);
  await page.locator('#bench-table .loupe[visibility="visible"]').waitFor({ state: 'detached' });
  await close();
});

/** The colours of the map's pixels, row by row from the head's right corner: red, green, blue, opacity. */
const pixels = (page) =>
  page.evaluate(() => {
    const drawn = document.querySelector('canvas.heat');
    const copy = new OffscreenCanvas(64, 32).getContext('2d');
    copy.drawImage(drawn, 0, 0);
    return [...copy.getImageData(0, 0, 64, 32).data];
  });
/** The pixel that shows a place on the nine-foot table (m). */
const pixelAt = (all, x, y) => all.slice(4 * (64 * Math.floor((32 * (y - 0.028575)) / 1.21285) + Math.floor((64 * (x - 0.028575)) / 2.48285))).slice(0, 4);
const legend = (page) => page.locator('#bench-scale-of');

test('the map is drawn for the next ball, moves with the balls, and ends proved', async () => {
  const { page, close } = await opened();
  await button(page, 'Map').click();
  await page.locator('canvas.heat:not([hidden])').waitFor();
  const line = page.locator('#bench-drawing path.contour');
  assert.match(await line.getAttribute('d'), /^M[-\d.]+ [-\d.]+(L[-\d.]+ [-\d.]+)+/, 'the line of one chance');
  await legend(page).filter({ hasText: 'chance of potting the 2, rough' }).waitFor();
  // Straight behind the 2 it is all but sure, and where it lies no cue ball can.
  await changed(async () => pixelAt(await pixels(page), 1.8, 0.42)[3], 0);
  const [red, green, blue, opacity] = pixelAt(await pixels(page), 1.8, 0.42);
  assert.ok(red > 240 && green > 200 && blue < 90 && opacity === 255, `bright: ${[red, green, blue, opacity]}`);
  assert.equal(pixelAt(await pixels(page), 1.905, 0.3175)[3], 0);
  const before = (await pixels(page)).join();
  await page.getByRole('button', { name: /^2 ball/ }).press('ArrowLeft');
  await changed(async () => (await pixels(page)).join(), before);
  const half = await line.getAttribute('d');
  await page.getByRole('slider', { name: 'Chance whose line is drawn' }).press('ArrowRight');
  await changed(() => line.getAttribute('d'), half);
  await page.waitForFunction(() => document.querySelector('#bench-scale-of').textContent === 'chance of potting the 2', null, { timeout: 240_000 });
  await button(page, 'Map').click();
  await page.locator('canvas.heat[hidden]').waitFor({ state: 'attached' });
  assert.equal(await line.getAttribute('d'), '');
  await close();
});

test('a map that is being proved is given up for the next one', async () => {
  const { page, close } = await opened({
    init: () => {
      const post = Worker.prototype.postMessage;
      window.sent = [];
      Worker.prototype.postMessage = function (message, ...rest) {
        window.sent.push(message);
        return post.call(this, message, ...rest);
      };
    },
  });
  await button(page, 'Map').click();
  await legend(page).filter({ hasText: ', rough' }).waitFor();
  const proofs = () => window.sent.filter(({ request }) => request?.proved).map(({ id }) => id);
  await page.waitForFunction(() => window.sent.filter(({ request }) => request?.proved).length >= 2);
  const proving = await page.evaluate(proofs);
  await page.getByRole('button', { name: /^2 ball/ }).press('ArrowLeft');
  await page.waitForFunction(() => window.sent.filter(({ cancel }) => cancel).length >= 2);
  const cancelled = await page.evaluate(() => window.sent.filter(({ cancel }) => cancel).map(({ cancel }) => cancel));
  assert.deepEqual(cancelled.sort(), proving.sort(), 'both workers are told');
  await close();
});

test('what is set up goes to a friend as a link', async () => {
  const { page, close } = await opened({ permissions: ['clipboard-write'] });
  await button(page, 'Share').click();
  const dialog = page.getByRole('dialog', { name: 'Share this item' });
  await dialog.getByRole('status').filter({ hasText: /Copied/ }).waitFor();
  assert.match(await pasted(page), /#leave=2\./);
  await close();
});

test('the Bench keeps what stands on it', async () => {
  const { page, close } = await opened();
  await page.keyboard.press('m');
  await changed(async () => (await words(page))[2], '');
  await page.getByRole('button', { name: /^2 ball, .* 3 from the right/ }).waitFor();
  const there = await words(page);
  await page.reload();
  await set(page);
  assert.deepEqual(await words(page), there);
  await page.evaluate(() => localStorage.setItem('leaveline.bench', '{"version":1,"item":{"kind":"leave"}}'));
  await page.reload();
  await page.getByRole('alert').filter({ hasText: /cannot be read/ }).waitFor();
  await set(page);
  await close();
});

const measure = () => {
  const { scrollWidth, scrollHeight } = document.documentElement;
  const visible = [...document.querySelectorAll('button, select')].filter((one) => one.checkVisibility());
  const box = (selector) => document.querySelector(selector).getBoundingClientRect();
  const [table, side] = [box('#bench-drawing .rail'), box('#bench .side')];
  return {
    scrolls: [scrollWidth - innerWidth, scrollHeight - innerHeight],
    inner: [...document.querySelectorAll('#bench .side, #bench .margins')].filter((one) => one.scrollHeight > one.clientHeight).map((one) => one.className),
    small: visible.filter((one) => { const { width, height, right, bottom } = one.getBoundingClientRect(); return width < 44 || height < 44 || right > innerWidth || bottom > innerHeight; }).map((one) => one.id),
    largest: table.width * table.height > side.width * side.height,
  };
};

test('one screen without scrolling, accessible by day and by night', async () => {
  for (const [width, height] of [[360, 640], [390, 844], [430, 932], [667, 375], [844, 390], [768, 1024], [1024, 768], [1366, 768], [1920, 1080]]) {
    const { page, close } = await opened({ viewport: { width, height }, hasTouch: width < 1100, colorScheme: width % 4 ? 'dark' : 'light' });
    await button(page, 'Zone').click();
    await page.getByRole('button', { name: /^Zone: / }).waitFor();
    await page.waitForFunction(() => !document.querySelector('#bench-margins').classList.contains('stale'));
    assert.deepEqual(await page.evaluate(measure), { scrolls: [0, 0], inner: [], small: [], largest: true }, `${width} x ${height}`);
    if (width === 390 || width === 1366) {
      assert.deepEqual(await inaccessible(page), [], `${width} wide`);
      for (const name of ['Balls', 'The task: what is called']) {
        await button(page, name).click();
        assert.deepEqual(await inaccessible(page), [], name);
        await page.keyboard.press('Escape');
      }
    }
    await close();
  }
});
