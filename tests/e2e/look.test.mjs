// What is seen: one screen without scrolling, the table largest; zoomed; and what is said where nothing can be drawn.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { seeded } from './core.mjs';
import { dealt, draw, launch, open, play, stage } from './page.mjs';

const SIZES = [
  [360, 640], [375, 667], [360, 800], [390, 844], [412, 915], [430, 932],
  [640, 360], [667, 375], [800, 360], [844, 390], [932, 430],
  [768, 1024], [1024, 768], [1280, 720], [1366, 640], [1366, 768], [1920, 1080],
];

/** What would make a player scroll or squint; and how large the table is beside everything else. */
const measure = () => {
  const { scrollWidth, scrollHeight } = document.documentElement;
  const box = (selector) => document.querySelector(selector).getBoundingClientRect();
  const table = box('#read-drawing .rail');
  const area = ({ width, height }) => width * height;
  const others = ['.stroke', '.grade', '.tools', '.actions', '.head', '.title', '.hint'].map((name) => [name, area(box(name))]);
  const visible = [...document.querySelectorAll('button, select')].filter((one) => one.checkVisibility());
  return {
    scrolls: [scrollWidth - innerWidth, scrollHeight - innerHeight],
    inner: [...document.querySelectorAll('.side, .grade, .lines')].map((one) => one.scrollHeight - one.clientHeight).filter((more) => more > 0),
    cut: visible.filter((one) => { const { right, bottom, left, top } = one.getBoundingClientRect(); return left < 0 || top < 0 || right > innerWidth || bottom > innerHeight; }).map((one) => one.id),
    small: visible.filter((one) => { const { width, height } = one.getBoundingClientRect(); return width < 44 || height < 44; }).map((one) => one.id),
    table: [table.left >= 0, table.top >= 0, table.right <= innerWidth, table.bottom <= innerHeight],
    larger: others.filter(([, size]) => size > area(table)).map(([name]) => name),
  };
};

const FITS = { scrolls: [0, 0], inner: [], cut: [], small: [], table: [true, true, true, true], larger: [] };

test('one screen without scrolling, before and after a played call', async () => {
  const place = await stage();
  // Of a few items the one with most to say about its stroke, from a sender who called too.
  const wordy = Array.from({ length: 24 }, (_, seed) => seeded(6, seed));
  const { sealed } = wordy.reduce((most, one) => (one.question.stroke.words.length > most.question.stroke.words.length ? one : most));
  for (const [width, height] of SIZES) {
    const { page, close } = await open({ place, hash: sealed, viewport: { width, height }, hasTouch: width < 1100 });
    await dealt(page);
    assert.deepEqual(await page.evaluate(measure), FITS, `${width} x ${height}, dealt`);
    await draw(page, [[1.9, 0], [2.54, 0.5], [1.6, 1.27], [0, 0.7], [1.4, 0.85]]);
    await play(page);
    await page.waitForTimeout(60);
    assert.deepEqual(await page.evaluate(measure), FITS, `${width} x ${height}, played`);
    await close();
  }
  await place.close();
});

test('a standing phone shows the names of all parts', async () => {
  const place = await stage();
  for (const [width, height] of SIZES.filter(([across, down]) => down > across)) {
    for (const part of ['read', 'bench', 'log']) {
      const { page, close } = await open({ place, hash: `#${part}`, viewport: { width, height }, hasTouch: true });
      await page.locator(`#${part} .actions`).waitFor({ timeout: 60_000 });
      const hidden = await page.evaluate(() =>
        [...document.querySelectorAll('.parts a')].filter((one) => {
          const { left, right, top, bottom } = one.getBoundingClientRect();
          return ![[left + 1, top + 1], [right - 1, bottom - 1]].every(([x, y]) => document.elementFromPoint(x, y) === one);
        }).map((one) => one.textContent));
      assert.deepEqual(hidden, [], `${width} x ${height}, ${part}`);
      await close();
    }
  }
  await place.close();
});

test('zoomed to 400 % the page becomes one column that scrolls one way', async () => {
  for (const [width, height] of [[341, 192], [320, 256], [480, 270]]) {
    const { page, close } = await open({ viewport: { width, height } });
    await dealt(page);
    await draw(page, [[1.9, 0.6], [1.2, 0.4]]);
    await play(page);
    const [across, down] = (await page.evaluate(measure)).scrolls;
    assert.equal(across, 0, `${width} x ${height} does not scroll sideways`);
    assert.ok(down > 0, `${width} x ${height} scrolls down`);
    const { width: wide } = await page.locator('#read-drawing .rail').boundingBox();
    assert.ok(wide > 0.85 * width, `the table fills the width: ${wide} of ${width}`);
    await close();
  }
});

test('every part zoomed to 400 % scrolls one way', async () => {
  const place = await stage();
  for (const part of ['leave', 'clear', 'eye', 'bench', 'sets', 'log']) {
    const { page, close } = await open({ place, hash: `#${part}`, viewport: { width: 320, height: 256 } });
    await page.locator(`#${part}`).waitFor({ timeout: 60_000 });
    await page.waitForTimeout(500);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.equal(wide, 0, `${part} does not scroll sideways`);
    const cut = await page.evaluate(() =>
      [...document.querySelectorAll('button, select, input')].filter((one) => one.checkVisibility() && !one.closest('.parts')).filter((one) => { const { left, right } = one.getBoundingClientRect(); return left < 0 || right > innerWidth; }).map((one) => one.id));
    assert.deepEqual(cut, [], `${part}: nothing is out of reach`);
    await close();
  }
  await place.close();
});

test('opened as a file, or without scripts, the page says in words what to do', async () => {
  const file = new URL('../../www/index.html', import.meta.url).href;
  const browser = await launch();
  const page = await browser.newPage();
  await page.goto(file);
  await page.getByText('scripts/run').waitFor();
  await page.waitForTimeout(300);
  assert.ok(await page.getByText('scripts/run').isVisible());
  const bare = await (await browser.newContext({ javaScriptEnabled: false })).newPage();
  await bare.goto(file);
  await bare.locator('noscript p').waitFor();
  await browser.close();
});
