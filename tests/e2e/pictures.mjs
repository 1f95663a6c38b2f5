// Takes the pictures of the README, each part at work on an item that is always the same: node tests/e2e/pictures.mjs FOLDER
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { showItem } from '../../www/pkg/leaveline.js';
import { clearItem, leaveLink, seeded } from './core.mjs';
import { button, dealt, draw, grade, open, play, spotIn, stage } from './page.mjs';
import { withPalette } from './palette.mjs';

const LEVEL = 4;
const SEED = 6;
/** How far the call is off at each touch, along its rail, and at the stop, m: about as far as a club player's. */
const OFF = [0.06, -0.09, 0.12];
/** Half of the zone that is marked around the stop, and how far its middle is off, m. */
const ZONE = [0.13, 0.09];
const BESIDE = 0.02;
/** The item of the ready-made set whose zone is called, and its place on the Bench. */
const [ITEM, SET] = [7, '../../www/sets/zone.json'];
const RUN = { level: 2, seed: 4, game: 'rotation', balls: 5 };
/** A plan is proved once its ways have raced. */
const PROVED = { timeout: 300_000 };

const DESKTOP = { viewport: { width: 1366, height: 768 }, colorScheme: 'light' };
const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true, colorScheme: 'light' };

const folder = process.argv[2];
if (!folder) {
  console.error('usage: node tests/e2e/pictures.mjs FOLDER');
  process.exit(2);
}
await mkdir(folder, { recursive: true });

const { call, hash } = seeded(LEVEL, SEED);
const touches = call.points.map(({ x, y, rail }, k) => {
  const off = OFF[k % OFF.length];
  return rail === 'head' || rail === 'foot' ? [x, y + off] : [x + off, y];
});
const called = [...touches, [call.stop.x - 0.09, call.stop.y + 0.06]];

const { entries } = JSON.parse(await readFile(new URL(SET, import.meta.url), 'utf8'));
const { item, stroke } = entries[ITEM];
const meant = { ...item, shot: { ...item.shot, stroke } };
const { stop } = showItem({ item, stroke }).meant.way;

/** A call of a path, played and graded. */
async function read(page) {
  await dealt(page);
  await draw(page, called);
  await play(page);
  await grade(page).locator('[aria-selected="true"]').waitFor({ state: 'detached' });
}

/** A zone that is called, and what 256 strokes make of it. */
async function leave(page) {
  await page.locator('#leave-drawing .ball.cue').waitFor();
  const [x, y] = [stop.x + BESIDE, stop.y - BESIDE];
  await page.mouse.move(...(await spotIn(page, 'leave-drawing', [x - ZONE[0], y - ZONE[1]])));
  await page.mouse.down();
  await page.mouse.move(...(await spotIn(page, 'leave-drawing', [x + ZONE[0], y + ZONE[1]])), { steps: 4 });
  await page.mouse.up();
  await page.getByRole('button', { name: /^Zone: / }).waitFor();
  await button(page, 'Play').click();
  await grade(page).waitFor();
}

/** The same layout with margins, traces, and from where the next ball goes. */
async function bench(page) {
  await page.evaluate((one) => localStorage.setItem('leaveline.bench', JSON.stringify({ version: 1, item: one, hand: null })), meant);
  await page.reload();
  await page.locator('.margin').nth(3).waitFor();
  await page.keyboard.press('h');
  await page.locator('canvas.heat:not([hidden])').waitFor();
  await page.waitForTimeout(4000);
}

/** A run with its plan, played out. */
async function clear(page) {
  await page.locator('#clear-drawing .ball.cue').waitFor();
  await button(page, 'Plan').click();
  await page.locator('#clear-found').filter({ hasText: /^Cleared \d+ of 256 runs/ }).waitFor(PROVED);
}

const PICTURES = {
  read: { hash, options: DESKTOP, act: read },
  leave: { hash: leaveLink(meant), options: DESKTOP, act: leave },
  clear: { hash: clearItem(RUN).hash, options: DESKTOP, act: clear },
  bench: { hash: '#bench', options: { ...DESKTOP, colorScheme: 'dark' }, act: bench },
  phone: { hash, options: PHONE, act: read },
};

const place = await stage();
for (const [name, { hash: address, options, act }] of Object.entries(PICTURES)) {
  const { page, context, close } = await open({ place, hash: address, ...options });
  await act(page);
  await page.evaluate(() => document.activeElement?.blur());
  await page.mouse.move(2, 2);
  await page.waitForTimeout(100);
  const png = await page.screenshot();
  const blank = await context.newPage();
  const small = await withPalette(blank, png);
  await writeFile(join(folder, `${name}.png`), small);
  console.log(`${name}.png: ${Math.round(small.length / 1000)} kB`);
  await close();
}
await place.close();
