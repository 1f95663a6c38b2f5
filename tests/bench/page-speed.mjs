// Measures the page in Chromium as a player feels it, and prints tables: node tests/bench/page-speed.mjs [moves]
// What it needs has been built: scripts/bench page does.
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { serve } from '../../scripts/serve.mjs';
import { table } from './table.mjs';

const moves = Number(process.argv[2] ?? 60);
/** A frame of a display of 60 Hz, and the longest that the page may be busy, ms. */
const FRAME = 1000 / 60;
const LONG = 50;
/** A press this soon after a play counts for nothing, ms. */
const DOUBLE = 700;
const SCREEN = { width: 1280, height: 800 };

const server = await serve(fileURLToPath(new URL('../../www', import.meta.url)), 0);
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-dev-shm-usage', '--disable-background-networking'],
});

/**
 * Watches a page from the inside: when events came, when frames were asked for and drawn, when elements changed, and
 * which tasks were long. Nothing of the page is changed.
 */
function watch() {
  const seen = { event: 0, asked: 0, long: [], changes: {} };
  globalThis.seen = seen;
  for (const type of ['pointermove', 'pointerdown', 'keydown', 'click']) {
    addEventListener(type, ({ timeStamp }) => (seen.event = timeStamp), { capture: true });
  }
  const ask = globalThis.requestAnimationFrame;
  globalThis.requestAnimationFrame = (draw) => {
    seen.asked = performance.now();
    return ask((time) => {
      const start = performance.now();
      draw(time);
      seen.drawn = { asked: seen.asked, start, end: performance.now() };
    });
  };
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) seen.long.push({ startTime, duration });
  }).observe({ type: 'longtask', buffered: true });
  /** Notes the times of all changes of an element and below it, also where the page puts another in its place. */
  globalThis.note = (selector) => {
    seen.changes[selector] = [];
    const elementOf = (node) => (node instanceof Element ? node : node.parentElement);
    const isThere = ({ target, addedNodes }) => [target, ...addedNodes].some((node) => elementOf(node)?.closest(selector));
    new MutationObserver((records) => records.some(isThere) && seen.changes[selector].push(performance.now()))
      .observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true });
  };
  /** Notes when an element first says something. */
  globalThis.noteText = (selector, pattern) => {
    const said = new RegExp(pattern);
    const observer = new MutationObserver(() => {
      if (!said.test(document.querySelector(selector)?.textContent ?? '')) return;
      seen.text = performance.now();
      observer.disconnect();
    });
    observer.observe(document.body, { subtree: true, childList: true, characterData: true });
  };
  /**
   * Notes the times of all frames that show the map with other pixels than the frame before, and of those in which the cue
   * ball can lie elsewhere: only a ball that has moved makes these. No frame is asked for before there is one to show: after
   * a key the browser lets messages wait for a frame that is asked for.
   */
  globalThis.notePictures = () => {
    const copy = new OffscreenCanvas(64, 32).getContext('2d', { willReadFrequently: true });
    const last = {};
    const differs = (what, now, time) => {
      if (last[what] !== now) (seen.changes[what] ??= []).push(time);
      last[what] = now;
    };
    const look = () => {
      const time = performance.now();
      copy.clearRect(0, 0, 64, 32);
      copy.drawImage(document.querySelector('canvas.heat'), 0, 0);
      const { data } = copy.getImageData(0, 0, 64, 32);
      differs('pixels', data.join(), time);
      differs('places', data.filter((_, k) => k % 4 === 3).join(), time);
    };
    const show = ImageBitmapRenderingContext.prototype.transferFromImageBitmap;
    ImageBitmapRenderingContext.prototype.transferFromImageBitmap = function (picture) {
      show.call(this, picture);
      ask(look);
    };
    look();
  };
  /** Waits for the first change since the latest event, and gives the time between; none if there is none in a while. */
  globalThis.first = async (what) => {
    const since = seen.event;
    const begin = performance.now();
    for (;;) {
      const found = seen.changes[what].find((time) => time > since);
      if (found !== undefined) return found - since;
      if (performance.now() - begin > 1000) return null;
      await new Promise((done) => setTimeout(done, 10));
    }
  };
  /** Waits until nothing below the element has changed for a while, and gives the times since the latest event. */
  globalThis.settled = async (selector, quiet) => {
    const since = seen.event;
    const times = () => seen.changes[selector].filter((time) => time > since);
    const begin = performance.now();
    while (performance.now() - (times().at(-1) ?? begin + 20 * quiet) < quiet) await new Promise((done) => setTimeout(done, 10));
    return times().map((time) => time - since);
  };
}

async function open(hash, { traced = false, ...options } = {}) {
  const context = await browser.newContext({ viewport: SCREEN, ...options });
  await context.addInitScript(watch);
  const page = await context.newPage();
  page.setDefaultTimeout(120_000); // A busy machine is slow, and what is slow is to be measured.
  page.on('pageerror', (error) => console.error(error));
  if (traced) await browser.startTracing(page, { categories: ['toplevel', 'devtools.timeline'] });
  await page.goto(server.url + hash);
  return page;
}
/** Where a place on the table (m) is on the screen. */
const spotIn = (page, drawing, place) =>
  page.evaluate(([id, [x, y]]) => {
    const at = new DOMPoint(1000 * x, 1000 * y).matrixTransform(document.querySelector(`#${id} > g`).getScreenCTM());
    return [at.x, at.y];
  }, [drawing, place]);
const button = (page, name) => page.getByRole('button', { name, exact: true });
const bench = async (options) => {
  const page = await open('#bench', options);
  await page.locator('#bench-bars .margin').nth(3).waitFor();
  await page.waitForFunction(() => !document.querySelector('#bench-margins').classList.contains('stale'));
  // A ball that snaps to the halves of diamonds would stay where it is through most moves.
  await page.locator('#bench-snap').click();
  return page;
};

const rows = [];
const at = (times, share) => [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(share * times.length))];
const ms = (time) => time.toFixed(1);
function tell(what, times, limit, unit = 'ms') {
  const within = times.filter((time) => time <= limit).length;
  rows.push([what, ms(at(times, 0.5)), ms(at(times, 0.95)), ms(Math.max(...times)), `${ms(limit)} ${unit}`, `${within} of ${times.length}`]);
}

/** Drags from a place on the Bench in small steps, each only when the one before is drawn. */
async function drag(what, from) {
  const page = await bench();
  const [x, y] = await spotIn(page, 'bench-drawing', from);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 5, y + 5);
  await page.evaluate(() => globalThis.note('#bench-drawing .outcome'));
  const [works, shown] = [[], []];
  for (let k = 1; k <= moves; k += 1) {
    await page.mouse.move(x + 5 - 2 * Math.abs(30 - (k % 60)) + 60, y + 5 + (k % 40));
    const one = await page.evaluate(async () => {
      const [first] = await globalThis.settled('#bench-drawing .outcome', 40);
      const { event, drawn } = globalThis.seen;
      return { shown: first, work: drawn.asked - event + drawn.end - drawn.start };
    });
    if (one.shown === undefined) continue; // Where it may not lie, nothing moves.
    works.push(one.work);
    shown.push(one.shown);
  }
  await page.mouse.up();
  tell(`${what}: core and drawing`, works, FRAME);
  tell(`${what}: until it is drawn`, shown, 2 * FRAME);
  await page.context().close();
}

/** Presses keys on a handle, and times what changes in a noted element; `pick` takes one time of all. */
async function keyed(page, what, handle, below, quiet, limit, pick) {
  const times = [];
  await page.locator(handle).focus();
  for (let k = 0; k < 20; k += 1) {
    await page.keyboard.press(k % 2 ? 'ArrowLeft' : 'ArrowRight');
    const all = await page.evaluate(([selector, wait]) => globalThis.settled(selector, wait), [below, quiet]);
    const one = pick(all);
    if (one !== undefined) times.push(one);
  }
  tell(what, times, limit);
}

/**
 * The tasks of a page's main thread that took longest: by the clock, and by the processor, which does not count what
 * else the machine did meanwhile.
 */
function longest(trace) {
  const { traceEvents } = JSON.parse(trace.toString());
  const on = (thread) => traceEvents.filter(({ pid, tid, ph, name }) => pid === thread.pid && tid === thread.tid && ph === 'X' && name.endsWith('RunTask'));
  const threads = traceEvents.filter(({ name, args }) => name === 'thread_name' && args.name === 'CrRendererMain').map(on);
  const tasks = threads.sort((a, b) => b.length - a.length)[0];
  const most = (of) => Math.max(...tasks.map((task) => (task[of] ?? 0) / 1000));
  return { clock: most('dur'), processor: most('tdur') };
}

/** What a session of a part made of the main thread. */
const tasks = [];
async function session(part, page) {
  await page.waitForTimeout(300);
  const { clock, processor } = longest(await browser.stopTracing());
  const long = await page.evaluate(() => globalThis.seen.long);
  tasks.push([part, ms(clock), ms(processor), String(long.length)]);
  await page.context().close();
}

async function pull(page, drawing, from, to) {
  await page.mouse.move(...(await spotIn(page, drawing, from)));
  await page.mouse.down();
  await page.mouse.move(...(await spotIn(page, drawing, to)), { steps: 25 });
  await page.mouse.up();
}

console.error('Bench: drags');
await drag('path, cue ball dragged', [0.635, 0.635]);
await drag('path, ball on dragged', [1.5875, 0.9525]);
await drag('path, other ball dragged', [1.905, 0.3175]);

console.error('Bench: margins, map');
{
  const page = await bench();
  await page.evaluate(() => globalThis.note('#bench-margins'));
  await keyed(page, 'margins and traces, from the key on', '#bench-ruler', '#bench-margins', 250, 100, (all) => all.at(-1));
  await button(page, 'Map').click();
  await page.locator('#bench-table.mapped').waitFor();
  await page.waitForTimeout(500);
  await page.evaluate(() => globalThis.notePictures());
  const [moved, dragged] = [[], []];
  await page.locator('[data-handle="ball 2"]').focus();
  for (let k = 0; k < moves; k += 1) {
    await page.keyboard.press(k % 2 ? 'ArrowLeft' : 'ArrowRight');
    const time = await page.evaluate(() => globalThis.first('places'));
    if (time !== null) moved.push(time);
    await page.waitForTimeout(300);
  }
  console.error(moved.map((t) => t.toFixed(0)).sort((a, b) => a - b).join(' '));
  const [x, y] = await spotIn(page, 'bench-drawing', [1.905, 0.3175]);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x - 10, y + 10);
  await page.waitForTimeout(500);
  for (let k = 1; k <= moves; k += 1) {
    await page.mouse.move(x - 10 - 2 * (30 - Math.abs(30 - (k % 60))), y + 10 + (k % 20));
    const time = await page.evaluate(() => globalThis.first('pixels'));
    if (time !== null) dragged.push(time);
    await page.waitForTimeout(50);
  }
  await page.mouse.up();
  tell('map 64 x 32, ball moved by key, until its picture is drawn', moved, 50);
  tell('map 64 x 32, ball dragged, until its picture is drawn', dragged, 50);
  await page.context().close();
}

console.error('Leave: best stroke');
{
  const times = [];
  for (let k = 0; k < 5; k += 1) {
    const page = await open('#leave', { reducedMotion: 'reduce' });
    await page.locator('#leave-drawing .ball').first().waitFor();
    await pull(page, 'leave-drawing', [1.0, 0.5], [1.5, 0.8]);
    await button(page, 'Play').click();
    await page.locator('#leave-grade').waitFor();
    await page.evaluate(() => globalThis.noteText('#leave-why-best .value', 'yours|none'));
    await button(page, 'Why').click();
    await page.locator('#leave-why-best .value').filter({ hasText: /yours|none/ }).waitFor();
    times.push(await page.evaluate(() => globalThis.seen.text - globalThis.seen.event));
    await page.context().close();
  }
  tell('best stroke with its margins', times.map((time) => time / 1000), 1, 's');
}

console.log(`${cpus()[0].model}, ${cpus().length} cores; Chromium ${browser.version()}, ${SCREEN.width} x ${SCREEN.height}\n`);
table(['from the event on', 'median', '95 %', 'worst', 'limit', 'within it'], rows);

console.error('Sessions');
{
  const page = await open('#read', { traced: true });
  await page.locator('#read-drawing .ball').first().waitFor();
  for (let k = 0; k < 2; k += 1) {
    await page.mouse.move(...(await spotIn(page, 'read-drawing', [0.6, 0.3])), { steps: 20 });
    for (const place of [[1.9, 0], [2.54, 0.5], [1.4, 0.85]]) await page.mouse.click(...(await spotIn(page, 'read-drawing', place)));
    await pull(page, 'read-drawing', [1.4, 0.85], [1.2, 0.6]);
    await button(page, 'Play').click();
    await page.locator('#read-lines li').first().waitFor();
    for (const line of await page.locator('#read-lines li').all()) await line.hover();
    await button(page, 'Why').click();
    await page.locator('#read-why-list li').nth(3).waitFor();
    for (const line of await page.locator('#read-why-list li').all()) await line.click();
    await page.waitForTimeout(DOUBLE);
    await button(page, 'Deal').click();
    await page.locator('#read-grade').waitFor({ state: 'hidden' });
  }
  await session('Read', page);
}
{
  const page = await open('#leave', { traced: true });
  await page.locator('#leave-drawing .ball').first().waitFor();
  await pull(page, 'leave-drawing', [1.0, 0.5], [1.5, 0.8]);
  await pull(page, 'leave-drawing', [1.25, 0.65], [1.45, 0.75]);
  const face = await page.locator('#leave-face').boundingBox();
  await page.mouse.move(face.x + face.width / 2, face.y + face.height / 2);
  await page.mouse.down();
  await page.mouse.move(face.x + 0.6 * face.width, face.y + 0.35 * face.height, { steps: 25 });
  await page.mouse.up();
  await button(page, 'Play').click();
  await page.locator('#leave-lines li').first().waitFor();
  await button(page, 'Why').click();
  await page.locator('#leave-why-best .value').filter({ hasText: /yours|none/ }).waitFor();
  for (const line of await page.locator('#leave-why-list li').all()) await line.click();
  await page.waitForTimeout(DOUBLE);
  await button(page, 'Deal').click();
  await page.locator('#leave-grade').waitFor({ state: 'hidden' });
  await session('Leave', page);
}
{
  const page = await bench({ traced: true });
  await pull(page, 'bench-drawing', [0.635, 0.635], [0.5, 0.9]);
  await pull(page, 'bench-drawing', [1.905, 0.3175], [1.6, 0.64]);
  await button(page, 'Map').click();
  await page.locator('#bench-table.mapped').waitFor();
  await pull(page, 'bench-drawing', [1.5875, 0.635], [1.9, 0.4]);
  await button(page, 'Zone').click();
  await page.locator('.zone').waitFor();
  await button(page, 'Ten').click();
  await page.locator('.ten').nth(9).waitFor();
  await button(page, 'Mirror left to right').click();
  await button(page, 'Undo').click();
  await button(page, 'Play').click();
  await page.waitForTimeout(1500);
  await session('Bench', page);
}
await browser.close();
await server.close();

table(['main thread, longest task, ms', 'by the clock', 'by the processor', `over ${LONG} ms`], tasks);
