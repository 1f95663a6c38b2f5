// A moving picture, saved by the page, in another engine: it must run there as the core says.
import assert from 'node:assert/strict';
import { once } from 'node:events';
import { createServer } from 'node:http';
import { setTimeout as sleep } from 'node:timers/promises';
import { seeded } from '../e2e/core.mjs';
import { button, dealt, draw, open, play } from '../e2e/page.mjs';
import { start } from './webdriver.mjs';

/** Pauses the picture at a moment, s. */
const GO = 'document.documentElement.pauseAnimations(); document.documentElement.setCurrentTime(arguments[0]);';
/** Where the cue ball is drawn, m, and how much of its path is not. */
const READ = `
  const { e, f } = document.querySelector('animateTransform').parentNode.transform.animVal.getItem(0).matrix;
  return [e / 1000, f / 1000, parseFloat(getComputedStyle(document.querySelector('[pathLength]')).strokeDashoffset)];`;
/** An engine draws a moment in a frame to come; this many are waited for. */
const FRAMES = 100;

/** The moving picture of an item that was played, as a file. */
async function saved({ hash, truth }) {
  const { page, close } = await open({ hash });
  await dealt(page);
  await draw(page, truth);
  await play(page);
  await button(page, 'Share').click();
  const [download] = await Promise.all([page.waitForEvent('download'), button(page, 'Save the shot as a moving picture').click()]);
  const chunks = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk);
  await close();
  return Buffer.concat(chunks);
}

/** @param {import('node:test').TestContext} context @param {Parameters<typeof start>[0]} engine */
export async function moveIn(context, engine) {
  const item = seeded(3, 5);
  const file = await saved(item);
  // Without the page's policy, as a saved file has none: under it Firefox animates no property that style sheets know.
  const server = createServer((_, response) => response.writeHead(200, { 'Content-Type': 'image/svg+xml' }).end(file)).listen(0, '127.0.0.1');
  await once(server, 'listening');
  context.after(() => server.close());
  const browser = await start(engine);
  context.after(browser.close);
  await browser.open(`http://127.0.0.1:${server.address().port}/`);
  const whole = await browser.run("return parseFloat(document.querySelector('animateTransform').getAttribute('dur'))");
  const { x, y } = item.question.balls.find(({ id }) => id === 'cue');
  const [stopX, stopY] = item.truth.at(-1);
  for (const [time, at, left] of [[0, [x, y], 1], [whole - 0.1, [stopX, stopY], 0], [whole + 0.1, [x, y], 1]]) {
    await browser.run(GO, time);
    const isThere = ([cueX, cueY, offset]) => Math.hypot(cueX - at[0], cueY - at[1]) < 2e-4 && Math.abs(offset - left) < 1e-4;
    let drawn = await browser.run(READ);
    for (let k = 0; k < FRAMES && !isThere(drawn); k++) {
      await sleep(20);
      drawn = await browser.run(READ);
    }
    assert.ok(isThere(drawn), `${browser.name}, ${time} s: the ball at ${drawn.slice(0, 2)} for ${at}, ${drawn[2]} of the path left for ${left}`);
  }
}
