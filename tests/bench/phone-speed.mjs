// What a phone feels, in Chromium with the main thread slowed four times: frames while a shot runs and while something is
// dragged, and how soon the first item can be called: node tests/bench/phone-speed.mjs SITE
// SITE is a released page; scripts/bench page makes one.
import { chromium } from 'playwright-core';
import { TRUSTING, host } from '../audit/host.mjs';
import { table } from './table.mjs';

const SLOWED = 4;
const FRAME = 1000 / 60;
/** By then the first item is there, ms. */
const SETTLED = 6000;
const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true };
/** The mobile profile of the page audit: 150 ms a round trip, 1.6 Mbit/s. */
const NETWORK = { offline: false, latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 750e3 / 8 };

const server = await host(process.argv[2]);
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-dev-shm-usage', '--disable-background-networking', ...TRUSTING],
});

/** Notes when frames come, from `frames.begin()` to `frames.end()`, and which tasks were long. */
function watch() {
  let running = false;
  let times = [];
  const tick = (time) => {
    times.push(time);
    if (running) requestAnimationFrame(tick);
  };
  const long = [];
  new PerformanceObserver((list) => list.getEntries().forEach(({ startTime, duration }) => long.push({ startTime, duration }))).observe({ type: 'longtask' });
  globalThis.noted = {
    begin() {
      times = [];
      long.length = 0;
      running = true;
      requestAnimationFrame(tick);
    },
    end() {
      running = false;
      return { gaps: times.slice(1).map((time, k) => time - times[k]), long: long.map(({ duration }) => duration) };
    },
  };
}

async function open(hash, ready) {
  const context = await browser.newContext(PHONE);
  await context.addInitScript(watch);
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  await page.goto(server.url + hash);
  await page.locator(ready).first().waitFor();
  await page.waitForTimeout(1500);
  const devtools = await context.newCDPSession(page);
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
  return { page, devtools, context };
}

const spot = (page, drawing, place) =>
  page.evaluate(([id, [x, y]]) => {
    const at = new DOMPoint(1000 * x, 1000 * y).matrixTransform(document.querySelector(`#${id} > g`).getScreenCTM());
    return { x: at.x, y: at.y };
  }, [drawing, place]);

/** A finger that goes from one place to another and back for a second. */
async function pull({ page, devtools }, drawing, from, to) {
  const [a, b] = [await spot(page, drawing, from), await spot(page, drawing, to)];
  const send = (type, touchPoints) => devtools.send('Input.dispatchTouchEvent', { type, touchPoints });
  await send('touchStart', [a]);
  for (let k = 0; k < 60; k += 1) {
    const share = Math.sin((Math.PI * k) / 60);
    await send('touchMove', [{ x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) }]);
    await page.waitForTimeout(FRAME);
  }
  await send('touchEnd', []);
}

const rows = [];
const at = (times, share) => [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(share * times.length))];
const ms = (time) => time.toFixed(1);

/** What the frames were while something was done. */
async function during(what, page, act) {
  await page.evaluate(() => globalThis.noted.begin());
  await act();
  const { gaps, long } = await page.evaluate(() => globalThis.noted.end());
  const late = gaps.filter((gap) => gap > 1.5 * FRAME).length;
  rows.push([what, String(gaps.length), ms(at(gaps, 0.5)), ms(at(gaps, 0.95)), ms(Math.max(...gaps)), `${late}`, long.length ? ms(Math.max(...long)) : 'none']);
}

{
  const one = await open('#read', '#read-drawing .ball');
  const { page } = one;
  for (const place of [[1.9, 0.02], [2.4, 0.5], [1.4, 0.85]]) {
    const { x, y } = await spot(page, 'read-drawing', place);
    await page.touchscreen.tap(x, y);
  }
  await during('Read: the stop dragged', page, () => pull(one, 'read-drawing', [1.4, 0.85], [1.0, 0.4]));
  await during('Read: a shot runs', page, async () => {
    await page.locator('#read-play').tap();
    await page.locator('#read-lines li').first().waitFor();
  });
  await one.context.close();
}
{
  const one = await open('#leave', '#leave-drawing .ball');
  await during('Leave: the zone dragged', one.page, () => pull(one, 'leave-drawing', [1.0, 0.5], [1.5, 0.8]));
  await one.context.close();
}
{
  const one = await open('#bench', '#bench-bars .margin');
  await during('Bench: the cue ball dragged', one.page, () => pull(one, 'bench-drawing', [0.635, 0.635], [0.5, 0.9]));
  await during('Bench: a shot runs', one.page, async () => {
    await one.page.locator('#bench-play').tap();
    await one.page.waitForTimeout(2000);
  });
  await one.context.close();
}
{
  const one = await open('#eye', '#eye-drawing .ball');
  await during('Eye: the handle dragged', one.page, () => pull(one, 'eye-drawing', [1.3, 0.6], [1.6, 0.8]));
  await one.context.close();
}

/** Notes when the cue ball stands on the table. */
function noteAsked() {
  const seen = new MutationObserver(() => {
    if (!document.querySelector('#read-drawing .ball.cue')) return;
    seen.disconnect();
    requestAnimationFrame(() => setTimeout(() => (globalThis.asked = performance.now())));
  });
  seen.observe(document, { childList: true, subtree: true });
}

/**
 * From the request on until a tap on the table would place a point of the call, s, by the page's clock: to wait for an element
 * from outside takes the slowed page a tenth of a second by itself.
 */
async function untilAsked(page, url) {
  await page.goto(url, { waitUntil: 'commit' });
  await page.waitForTimeout(SETTLED);
  return (await page.evaluate(() => globalThis.asked ?? NaN)) / 1000;
}

const opened = [];
for (let k = 0; k < 3; k += 1) {
  const context = await browser.newContext(PHONE);
  await context.addInitScript(noteAsked);
  const page = await context.newPage();
  page.setDefaultTimeout(120_000);
  const devtools = await context.newCDPSession(page);
  await devtools.send('Network.enable');
  await devtools.send('Network.emulateNetworkConditions', NETWORK);
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
  const first = await untilAsked(page, server.url);
  await page.locator('#version').filter({ hasText: /kept on this device/ }).waitFor({ state: 'attached' });
  await page.waitForTimeout(1000);
  const again = await untilAsked(page, server.url);
  opened.push([String(k + 1), first.toFixed(2), again.toFixed(2)]);
  await context.close();
}
await browser.close();
table(['frames, main thread slowed four times', 'frames', 'median, ms', '95 %', 'worst', `over ${ms(1.5 * FRAME)}`, 'longest task'], rows);
table(['the first item can be called, s', 'first visit', 'again'], opened);
process.exit(0);
