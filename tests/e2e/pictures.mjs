// Takes the pictures of the README: a played call, by day, by night, on a phone. node tests/e2e/pictures.mjs FOLDER
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { seeded } from './core.mjs';
import { dealt, draw, grade, open, play, stage } from './page.mjs';
import { withPalette } from './palette.mjs';

const LEVEL = 4;
const SEED = 6;
/** How far the call is off at each touch, along its rail, and at the stop, m: about as far as a club player's. */
const OFF = [0.06, -0.09, 0.12];

const PICTURES = {
  'read-day': { viewport: { width: 1366, height: 768 }, colorScheme: 'light' },
  'read-night': { viewport: { width: 1366, height: 768 }, colorScheme: 'dark' },
  'read-phone': { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true, colorScheme: 'light' },
};

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
const place = await stage();
for (const [name, options] of Object.entries(PICTURES)) {
  const { page, context, close } = await open({ place, hash, ...options });
  await dealt(page);
  await draw(page, called);
  await play(page);
  await page.evaluate(() => document.activeElement?.blur());
  await page.mouse.move(2, 2);
  await grade(page).locator('[aria-selected="true"]').waitFor({ state: 'detached' });
  await page.waitForTimeout(100);
  const png = await page.screenshot();
  const blank = await context.newPage();
  const small = await withPalette(blank, png);
  await writeFile(join(folder, `${name}.png`), small);
  console.log(`${name}.png: ${Math.round(small.length / 1000)} kB`);
  await close();
}
await place.close();
