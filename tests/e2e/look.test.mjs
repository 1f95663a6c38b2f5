// What is seen: one screen without scrolling, the table largest; zoomed; and what is said where nothing can be drawn.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { clearItem, leaveLink, seeded } from './core.mjs';
import { button, dealt, draw, launch, open, play, spotIn, stage } from './page.mjs';

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
    // On a slender phone the table keeps its room, and a long list, which the keyboard reaches, scrolls.
    inner: [...document.querySelectorAll(innerWidth > innerHeight / 2 ? '.side, .grade, .lines' : '.side, .grade')].map((one) => one.scrollHeight - one.clientHeight).filter((more) => more > 0),
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

/** Where the table is, to half a pixel. */
const tableOf = (page, part) => page.locator(`#${part}-drawing .rail`).evaluate((rail) => {
  const { x, y, width, height } = rail.getBoundingClientRect();
  return [x, y, width, height].map((value) => Math.round(2 * value) / 2);
});

test('on a standing phone the table stays where it is: before a call, after it, and explained', async () => {
  const place = await stage();
  const { item, stroke } = JSON.parse(await readFile(new URL('../../www/sets/zone.json', import.meta.url), 'utf8')).entries[7];
  for (const [width, height] of [[360, 640], [390, 844], [412, 915]]) {
    const phone = { place, viewport: { width, height }, hasTouch: true };
    const still = async (page, part, stood, when) => assert.deepEqual(await tableOf(page, part), stood, `${part}, ${width} x ${height}, ${when}`);

    const read = await open({ ...phone, hash: seeded(4, 6).hash });
    await dealt(read.page);
    const readStood = await tableOf(read.page, 'read');
    await draw(read.page);
    await still(read.page, 'read', readStood, 'called');
    await play(read.page);
    await still(read.page, 'read', readStood, 'played');
    await button(read.page, 'Why').click();
    await read.page.locator('#read-why-list li').first().waitFor();
    await still(read.page, 'read', readStood, 'explained');
    await read.close();

    const leave = await open({ ...phone, hash: leaveLink({ ...item, shot: { ...item.shot, stroke } }) });
    await leave.page.locator('#leave-drawing .ball.cue').waitFor({ timeout: 60_000 });
    const leaveStood = await tableOf(leave.page, 'leave');
    const [from, to] = [await spotIn(leave.page, 'leave-drawing', [1.2, 0.5]), await spotIn(leave.page, 'leave-drawing', [1.5, 0.8])];
    await leave.page.mouse.move(...from);
    await leave.page.mouse.down();
    await leave.page.mouse.move(...to, { steps: 4 });
    await leave.page.mouse.up();
    await leave.page.getByRole('button', { name: /^Zone: / }).waitFor();
    await still(leave.page, 'leave', leaveStood, 'zone marked');
    await play(leave.page);
    await still(leave.page, 'leave', leaveStood, 'played');
    await button(leave.page, 'Why').click();
    await leave.page.locator('#leave-why-list li').first().waitFor({ timeout: 60_000 });
    await still(leave.page, 'leave', leaveStood, 'explained');
    await leave.close();

    const clear = await open({ ...phone, hash: clearItem({ level: 2, seed: 4, game: 'rotation', balls: 3 }).hash });
    await clear.page.locator('#clear-drawing .ball.cue').waitFor({ timeout: 60_000 });
    const clearStood = await tableOf(clear.page, 'clear');
    await button(clear.page, 'Plan').click();
    await clear.page.locator('#clear-steps li').first().waitFor({ timeout: 120_000 });
    await still(clear.page, 'clear', clearStood, 'with a plan');
    await clear.close();

    const eye = await open({ ...phone, hash: '#eye' });
    const handle = eye.page.locator('#eye-drawing .eye-handle[tabindex]');
    await handle.waitFor({ timeout: 60_000 });
    const eyeStood = await tableOf(eye.page, 'eye');
    await handle.press('ArrowLeft');
    await button(eye.page, 'Answer').click();
    await button(eye.page, 'Next').waitFor();
    await still(eye.page, 'eye', eyeStood, 'answered');
    await eye.close();
  }
  await place.close();
});

test('the tools of the Bench are seen whole, and stand still while the map opens', async () => {
  const place = await stage();
  for (const [width, height] of SIZES.filter(([across, down]) => across > down)) {
    const { page, close } = await open({ place, hash: '#bench', viewport: { width, height }, hasTouch: width < 1100 });
    await page.locator('.margin').nth(3).waitFor({ timeout: 60_000 });
    const tools = () => page.locator('#bench .tool').evaluateAll((all) => all.map((one) => {
      const { left, top, right, bottom } = one.getBoundingClientRect();
      const whole = [[left + 1, top + 1], [right - 1, bottom - 1]].every(([x, y]) => one.contains(document.elementFromPoint(x, y)));
      return `${one.id} ${whole} ${Math.round(left)} ${Math.round(top)}`;
    }));
    const stood = await tools();
    assert.deepEqual(stood.filter((one) => !one.includes(' true ')), [], `${width} x ${height}`);
    await button(page, 'Map').click();
    await page.locator('#bench-scale').waitFor();
    await page.locator('#bench-scale-of').filter({ hasText: /chance/ }).waitFor();
    assert.deepEqual(await tools(), stood, `${width} x ${height}, with the map`);
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
