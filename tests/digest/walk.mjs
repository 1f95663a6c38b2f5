// The main way through each part, in another engine: opened, its one thing done by pointer or keys, and what comes of it seen.
import assert from 'node:assert/strict';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { serve } from '../../scripts/serve.mjs';
import { start } from './webdriver.mjs';

const WWW = fileURLToPath(new URL('../../www', import.meta.url));
/** How long anything may take on a busy machine, ms. */
const PATIENCE = 60_000;
/** A second press this soon is taken for a double press, ms. */
const DOUBLE = 650;
const [ENTER, UP, RIGHT] = ['\uE007', '\uE013', '\uE014'];

const SEEN = 'return [...document.querySelectorAll(arguments[0])].some((one) => one.getClientRects().length > 0)';
const SPOT = `
  const at = new DOMPoint(1000 * arguments[1][0], 1000 * arguments[1][1]).matrixTransform(document.querySelector('#' + arguments[0] + '-drawing > g').getScreenCTM());
  return [at.x, at.y];`;

/** @param {import('node:test').TestContext} context @param {Parameters<typeof start>[0]} engine */
export async function walkIn(context, engine) {
  const server = await serve(WWW, 0);
  context.after(server.close);
  const browser = await start(engine);
  context.after(browser.close);

  /** Waits until something of this selector is seen. @param {string} selector */
  async function seen(selector) {
    for (const until = Date.now() + PATIENCE; !(await browser.run(SEEN, selector)); await sleep(50)) {
      assert.ok(Date.now() < until, `${browser.name} shows no ${selector}`);
    }
  }
  const tap = async (part, place) => browser.tap(await browser.run(SPOT, part, place));
  const focus = (selector) => browser.run('document.querySelector(arguments[0]).focus()', selector);
  /** Goes to a part by its link in the head. */
  async function visit(part) {
    await browser.run("document.querySelector(`#parts a[href$='#${arguments[0]}']`).click()", part);
    await seen(`#parts a[aria-current][href$='#${part}']`);
  }
  /** Plays, and does not wait for the shot to run. */
  async function play(part) {
    await seen(`#${part}-play:enabled`);
    await browser.click(`#${part}-play`);
    await sleep(DOUBLE);
    if (await browser.run(`return document.getElementById('${part}-play').textContent === 'Skip'`)) await browser.click(`#${part}-play`);
    await seen(`#${part}-lines .line`);
  }

  await browser.open(server.url);
  await seen('#read-drawing .ball.cue');
  await focus('#read-drawing [data-handle="ghost"]');
  await browser.press(ENTER);
  await seen('#read-drawing [data-handle="0"]');
  await browser.press(RIGHT + UP);
  await tap('read', [1.4, 0.8]);
  await seen('#read-drawing [data-handle="1"]');
  await play('read');
  await browser.click('#help');
  await seen('#help-words .words-list input');
  await focus('#help-words .words-list input');
  await browser.press(RIGHT);
  await seen('#words-table .real');
  await browser.click('#help-close');

  await visit('leave');
  await seen('#leave-drawing .ball.cue');
  await tap('leave', [1.4, 0.8]);
  await seen('#leave-drawing .zone-area');
  await play('leave');

  await visit('clear');
  await seen('#clear-drawing .ball.cue');
  await seen('#clear-play:enabled');
  await browser.click('#clear-play');
  await seen('#clear-shots [role="option"]');

  await visit('eye');
  await seen('#eye-drawing .eye-handle[tabindex]');
  await focus('#eye-drawing .eye-handle[tabindex]');
  await browser.press(RIGHT);
  await sleep(DOUBLE);
  await browser.press(ENTER);
  await seen('#eye-drawing circle.eye-truth');

  await visit('bench');
  await seen('#bench .margin');
  await focus('#bench-ruler');
  await browser.press(UP);
  await seen('#bench-undo:enabled');

  await visit('sets');
  await seen('#sets-drawing .ball.cue');
  await browser.click('#sets-reveal');
  await seen('#sets-drawing .real');

  await visit('log');
  await seen('#log-view');
  await browser.click('#log-view option[value="list"]');
  await seen('#log-list > li:nth-child(2)');
  context.diagnostic(`${browser.name} went through every part`);
}
