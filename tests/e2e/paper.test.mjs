// Sheets for the table: what stands on them, that they fit their paper, and that their code leads back to the item.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import jsQR from 'jsqr';
import { clearItem, leaveItem, seeded } from './core.mjs';
import { button, dealt, draw, inaccessible, launch, layout, open, play } from './page.mjs';

/** A4 and Letter as their makers state them (ISO 216; ANSI/ASME Y14.1), in points of 1/72 inch. */
const PAPERS = { A4: [210 / 25.4 * 72, 297 / 25.4 * 72], Letter: [612, 792] };

const sheets = (page) => page.getByRole('dialog', { name: 'Sheets to print' });

/** Opens the sheets of items, as the page itself does. */
async function print(page, items) {
  await page.evaluate(async (pages) => {
    const { openPaper } = await import(new URL('js/paper/print.js', location.href).href);
    await openPaper(pages);
  }, items.map((item, k) => ({ title: `Item ${k + 1}`, note: `Note ${k + 1}: come off the foot rail, short of the side pocket.`, item })));
  await sheets(page).getByRole('status').filter({ hasText: /sheet/ }).waitFor();
}

/** The sizes of a PDF's pages, points. */
const pagesOf = (pdf) => [...pdf.toString('latin1').matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)].map(([, ...size]) => size.map(Number));

/** What a camera would read off an element of the page. */
async function read(page, element) {
  const png = await element.screenshot();
  const { width, height, data } = await page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const context = new OffscreenCanvas(image.width, image.height).getContext('2d');
    context.drawImage(image, 0, 0);
    const pixels = context.getImageData(0, 0, image.width, image.height);
    return { width: image.width, height: image.height, data: [...pixels.data] };
  }, png.toString('base64'));
  return jsQR(Uint8ClampedArray.from(data), width, height)?.data ?? null;
}

const NINE = { balls: 9 };
const items = () => [seeded(3, 5).question.item, leaveItem(2, 5).item, clearItem(NINE).item];

test('the code on a sheet opens its item, read by a decoder that is not ours', async () => {
  const { page, url, close } = await open({ deviceScaleFactor: 2, colorScheme: 'dark' });
  await dealt(page);
  await print(page, items());
  const links = [seeded(3, 5).hash, leaveItem(2, 5).hash, clearItem(NINE).hash];
  for (const [k, link] of links.entries()) {
    const code = sheets(page).getByRole('img', { name: /^Code for a camera/ }).nth(k);
    assert.equal(await read(page, code), url + link, `item ${k + 1}`);
  }
  await close();
});

test('one, two or four items lie on one sheet of A4 or Letter', async () => {
  const { page, close } = await open();
  await dealt(page);
  await print(page, [...items(), ...items().slice(0, 2)]);
  for (const [paper, size] of Object.entries(PAPERS)) {
    await sheets(page).getByLabel('Paper').selectOption(paper);
    for (const [among, count] of [[1, 5], [2, 3], [4, 2]]) {
      await sheets(page).getByLabel('Items on a sheet').selectOption(String(among));
      await sheets(page).getByRole('status').filter({ hasText: `${count} sheets` }).waitFor();
      const pages = pagesOf(await page.pdf({ preferCSSPageSize: true }));
      assert.equal(pages.length, count, `${among} on ${paper}`);
      for (const found of pages) found.forEach((side, k) => assert.ok(Math.abs(side - size[k]) < 1, `${found} points on ${paper}`));
      const spilled = await sheets(page).locator('.slip').evaluateAll((slips) =>
        slips.filter((slip) => slip.scrollHeight > slip.clientHeight + 1 || slip.scrollWidth > slip.clientWidth + 1).length);
      assert.equal(spilled, 0, `${among} on ${paper}: all of each item is on the paper`);
    }
  }
  await close();
});

test('the drawing is to its scale, and the sheet is black on white at night', async () => {
  const { page, close } = await open({ colorScheme: 'dark' });
  await dealt(page);
  await print(page, items());
  const slip = sheets(page).getByRole('article').first();
  const [, scale] = /1 : (\d+)/.exec(await slip.textContent());
  const nose = await slip.locator('path.nose').evaluate((path) => path.getBoundingClientRect().width);
  // From corner hole to corner hole, along the noses of a nine-foot table: 100 inches and a little of both pockets.
  const millimetres = (nose / 96) * 25.4 * Number(scale);
  assert.ok(millimetres > 2540 && millimetres < 2740, `${millimetres} mm`);
  const colours = await slip.evaluate((one) => [getComputedStyle(one).color, getComputedStyle(one.parentElement).backgroundColor]);
  assert.deepEqual(colours, ['rgb(0, 0, 0)', 'rgb(255, 255, 255)']);
  await close();
});

test('a sheet says what is asked, where the balls lie, and that it promises nothing', async () => {
  const { page, close } = await open();
  await dealt(page);
  await print(page, items());
  const { question } = seeded(3, 5);
  const slip = sheets(page).getByRole('article').first();
  const text = await slip.textContent();
  for (const words of [question.task, question.stroke.words, 'Item 1', 'Note 1', 'promises nothing', 'a real table differs']) assert.ok(text.includes(words), `${words} in ${text}`);
  const rows = await slip.locator('tbody tr').evaluateAll((all) => all.map((row) => [...row.children].slice(0, 5).map((one) => one.textContent)));
  const { length, width } = question.table;
  // The places of the item itself, in the measures of the sheet: a diamond is an eighth of the length, a quarter of the width.
  assert.deepEqual(rows.map(([id]) => id).sort(), question.balls.map(({ id }) => id).sort());
  for (const [id, ...shown] of rows) {
    const { x, y } = question.balls.find((ball) => ball.id === id);
    // Two digits of a diamond and one of a centimetre: half of the last is what rounding may take.
    [[(8 * x) / length, 0.005], [(4 * y) / width, 0.005], [100 * x, 0.05], [100 * y, 0.05]].forEach(([exact, half], k) =>
      assert.ok(Math.abs(Number(shown[k]) - exact) <= half + 1e-9, `${id}: ${shown[k]} for ${exact}`));
  }
  await close();
});

for (const colorScheme of ['light', 'dark']) {
  for (const viewport of [{ width: 1366, height: 768 }, { width: 390, height: 844 }]) {
    test(`sheets and share are accessible, ${colorScheme}, ${viewport.width} wide, and by keyboard alone`, async () => {
      const { page, close } = await open({ colorScheme, viewport });
      await dealt(page);
      await button(page, 'Share').focus();
      await page.keyboard.press('Enter');
      const share = page.getByRole('dialog', { name: 'Share this item' });
      await share.getByRole('button', { name: 'Print…' }).waitFor();
      assert.deepEqual(await inaccessible(page), [], 'share');
      await share.getByRole('button', { name: 'Print…' }).focus();
      await page.keyboard.press('Enter');
      await sheets(page).getByRole('status').filter({ hasText: '1 sheet' }).waitFor();
      assert.deepEqual(await inaccessible(page), [], 'sheets');
      const before = await layout(page);
      await page.keyboard.press('d');
      await page.keyboard.press('Tab');
      assert.ok(await sheets(page).evaluate((view) => view.contains(document.activeElement)), 'the keyboard stays on the sheets');
      await page.keyboard.press('Escape');
      await sheets(page).waitFor({ state: 'detached' });
      assert.deepEqual(await layout(page), before, 'no item was dealt behind the sheets');
      await close();
    });
  }
}

/** Presses a button of Share, and gives the file that the browser was handed. */
async function saved(page, name) {
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name }).click()]);
  const chunks = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk);
  return { name: download.suggestedFilename(), bytes: Buffer.concat(chunks) };
}

test('pictures stand alone, look the same by day and by night, and keep the proportions of the table', async () => {
  const seen = {};
  for (const colorScheme of ['light', 'dark']) {
    const { hash, truth } = seeded(3, 5);
    const { page, close } = await open({ colorScheme, hash });
    await dealt(page);
    await draw(page, truth);
    await play(page);
    await button(page, 'Share').click();
    const drawing = await saved(page, 'Save a Drawing (SVG) of the table');
    const picture = await saved(page, 'Save a Picture (PNG) of the table');
    assert.deepEqual([drawing.name, picture.name], ['leaveline-read.svg', 'leaveline-read.png']);
    const text = drawing.bytes.toString();
    assert.doesNotMatch(text, /class=|style=|var\(|data-|aria-|<script|href=/, 'nothing of the page is needed');
    assert.match(text, /^<svg[^>]*><title>Leaveline: Read\. /);
    seen[colorScheme] = text;
    const [width, height] = [16, 20].map((at) => picture.bytes.readUInt32BE(at));
    const [, long, short] = /viewBox="[-\d.]+ [-\d.]+ ([\d.]+) ([\d.]+)"/.exec(text).map(Number);
    assert.ok(Math.abs(width / height - long / short) < 2e-3, `${width} by ${height} for ${long} by ${short}`);
    await close();
  }
  assert.equal(seen.dark, seen.light);
});

test('a picture of a map has the map in it, in the drawing and in the pixels', async () => {
  const { page, close } = await open({ hash: '#bench' });
  await page.locator('#bench-table .ball.cue').waitFor();
  await page.keyboard.press('h');
  // A worker draws the map; it is there when it is seen.
  await page.waitForFunction(() => {
    const map = document.querySelector('#bench canvas.heat:not([hidden])');
    if (!map) return false;
    const context = new OffscreenCanvas(1, 1).getContext('2d');
    context.drawImage(map, 0, 0, 1, 1);
    return context.getImageData(0, 0, 1, 1).data[3] > 0;
  });
  await button(page, 'Share').click();
  const picture = await saved(page, 'Save a Picture (PNG) of the table');
  const drawing = await saved(page, 'Save a Drawing (SVG) of the table');
  assert.match(drawing.bytes.toString(), /<image [^>]*href="data:image\/png;base64,/);
  // The middle of the near half, where there is cloth or map and nothing else.
  const [red, green, blue] = await page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const context = new OffscreenCanvas(image.width, image.height).getContext('2d');
    context.drawImage(image, 0, 0);
    return [...context.getImageData(0.4 * image.width, 0.7 * image.height, 1, 1).data];
  }, picture.bytes.toString('base64'));
  assert.ok(red - blue > 40 && green - blue > 30, `a colour of the scale, no cloth: ${red}, ${green}, ${blue}`);
  await close();
});

test('a moving picture runs in real time to where the balls really stop, and begins anew', async () => {
  const { hash, truth } = seeded(3, 5);
  const { page, close } = await open({ hash });
  await dealt(page);
  await draw(page, truth);
  await play(page);
  await button(page, 'Share').click();
  const { name, bytes } = await saved(page, 'Save the shot as a moving picture');
  assert.equal(name, 'leaveline-read-moving.svg');
  await close();

  // The file by itself, its own clock set: no browser's timing is waited for.
  const browser = await launch();
  const alone = await browser.newPage();
  await alone.goto(`data:image/svg+xml;base64,${bytes.toString('base64')}`);
  const cueAt = (seconds) => alone.evaluate((t) => {
    const root = document.documentElement;
    root.pauseAnimations();
    root.setCurrentTime(t);
    const running = root.querySelector('animateTransform').parentElement;
    const { e, f } = running.transform.animVal.getItem(0).matrix;
    return [e / 1000, f / 1000];
  }, seconds);
  const whole = await alone.evaluate(() => parseFloat(document.querySelector('animateTransform').getAttribute('dur')));
  const { question } = seeded(3, 5);
  const cue = question.balls.find(({ id }) => id === 'cue');
  const near = (a, [x, y], words) => assert.ok(Math.hypot(a[0] - x, a[1] - y) < 2e-4, `${words}: ${a} for ${x}, ${y}`);
  near(await cueAt(0), [cue.x, cue.y], 'it begins where it lies');
  near(await cueAt(whole - 0.1), truth.at(-1), 'it ends where it stops');
  near(await cueAt(2 * whole + 0.1), [cue.x, cue.y], 'it begins anew');
  await browser.close();
});
