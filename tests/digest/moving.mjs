// A moving picture, saved by the page, in another engine: it must run there as the core says.
import assert from 'node:assert/strict';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { serve } from '../../scripts/serve.mjs';
import { seeded } from '../e2e/core.mjs';
import { button, dealt, draw, open, play } from '../e2e/page.mjs';
import { start } from './webdriver.mjs';

/** Pauses the picture at a moment, s, and tells where the cue ball is drawn, m, and how much of its path. */
const AT = `
  const root = document.documentElement;
  root.pauseAnimations();
  root.setCurrentTime(arguments[0]);
  const { e, f } = root.querySelector('animateTransform').parentNode.transform.animVal.getItem(0).matrix;
  return [e / 1000, f / 1000, parseFloat(getComputedStyle(root.querySelector('[pathLength]')).strokeDashoffset)];`;

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
  const folder = await mkdtemp(join(tmpdir(), 'leaveline-'));
  context.after(() => rm(folder, { recursive: true }));
  await writeFile(join(folder, 'shot.svg'), await saved(item));
  const server = await serve(folder, 0);
  context.after(server.close);
  const browser = await start(engine);
  context.after(browser.close);
  await browser.open(`${server.url}shot.svg`);
  const whole = await browser.run("return parseFloat(document.querySelector('animateTransform').getAttribute('dur'))");
  const { x, y } = item.question.balls.find(({ id }) => id === 'cue');
  const [stopX, stopY] = item.truth.at(-1);
  for (const [time, at, left] of [[0, [x, y], 1], [whole - 0.1, [stopX, stopY], 0], [whole + 0.1, [x, y], 1]]) {
    const [cueX, cueY, offset] = await browser.run(AT, time);
    assert.ok(Math.hypot(cueX - at[0], cueY - at[1]) < 2e-4, `${browser.name}, ${time} s: ${cueX}, ${cueY} for ${at}`);
    assert.ok(Math.abs(offset - left) < 1e-4, `${browser.name}, ${time} s: ${offset} of the path for ${left}`);
  }
}
