// Opens the page in a real browser, and drives it as a player does.
import assert from 'node:assert/strict';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after } from 'node:test';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { serve } from '../../scripts/serve.mjs';

const WWW = fileURLToPath(new URL('../../www', import.meta.url));
const AXE = await readFile(new URL(import.meta.resolve('axe-core/axe.min.js')), 'utf8');

/** A call that fits every table: points on the foot and the right rail, and a stop on the cloth, m. */
export const PATH = [
  [1.9, 0],
  [2.54, 0.5],
  [1.4, 0.85],
];

/** What a failed test left open; it would keep the process waiting. */
const left = new Set();
after(() => Promise.all([...left].map((close) => close())));

/** Serves a copy of the page in which files may be changed: name to function of its text. */
export async function stage() {
  const folder = await mkdtemp(join(tmpdir(), 'leaveline-'));
  await cp(WWW, folder, { recursive: true });
  const server = await serve(folder, 0);
  const whole = new Map();
  const close = async () => {
    left.delete(close);
    await server.close();
    await rm(folder, { recursive: true });
  };
  left.add(close);
  return {
    url: server.url,
    async change(name, edit) {
      const text = await readFile(join(folder, name), 'utf8');
      if (!whole.has(name)) whole.set(name, text);
      const edited = edit(text);
      assert.notEqual(edited, text, `the change to ${name} found nothing to change`);
      await writeFile(join(folder, name), edited);
    },
    async mend() {
      for (const [name, text] of whole) await writeFile(join(folder, name), text);
    },
    close,
  };
}

/** Starts the browser. */
export async function launch() {
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-dev-shm-usage', '--disable-background-networking'],
  });
  const close = () => browser.close();
  left.add(close);
  browser.on('disconnected', () => left.delete(close));
  return browser;
}

/**
 * Opens the page. `close` fails if it reported an error or asked another host for anything.
 * @param {{ place?: Awaited<ReturnType<typeof stage>>, hash?: string, init?: () => void, before?: (context: import('playwright-core').BrowserContext) => Promise<void> } & import('playwright-core').BrowserContextOptions} options
 */
export async function open({ place, hash = '', init, before, ...options } = {}) {
  const own = place ? null : await stage();
  const { url } = place ?? own;
  const browser = await launch();
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 }, reducedMotion: 'reduce', ...options });
  const errors = [];
  const watch = (page) => {
    page.on('pageerror', (error) => errors.push(String(error)));
    page.on('console', (message) => message.type() === 'error' && errors.push(message.text()));
  };
  context.on('request', (request) => {
    if (!request.url().startsWith(url) && !/^(blob|data):/.test(request.url())) errors.push(`asked for ${request.url()}`);
  });
  if (init) await context.addInitScript(init);
  await before?.(context);
  const page = await context.newPage();
  watch(page);
  await page.goto(url + hash);
  const close = async () => {
    await browser.close();
    await own?.close();
    assert.deepEqual(errors, [], 'the page reported errors');
  };
  /** Opens another page that shares the storage. */
  const another = async (to = url) => {
    const next = await context.newPage();
    watch(next);
    await next.goto(to);
    return next;
  };
  return { page, context, url, close, another, errors };
}

export const button = (page, name) => page.getByRole('button', { name, exact: true });
export const handles = (page) => page.getByRole('button', { name: /^(Point \d|Last point|Stop)/ });
export const grade = (page) => page.getByRole('listbox', { name: /grade/i });
export const notice = (page) => page.getByRole('alert');

/** Waits until an item is on the table. */
export const dealt = (page) => page.getByRole('img', { name: /^cue ball/i }).first().waitFor();

/** The task and the balls in words: what tells one item from another. */
export const layout = (page) =>
  page.getByRole('img', { name: /ball,/i }).evaluateAll((balls) => balls.map((ball) => ball.getAttribute('aria-label')));

/** The handles in words, without their count. */
export const call = async (page) =>
  (await handles(page).evaluateAll((all) => all.map((one) => one.getAttribute('aria-label')))).map((text) => text.replace(/^[^:]*: /, ''));

/** Where a place on the table (m) is on the screen, in the drawing of an id. */
export const spotIn = (page, drawing, [x, y]) =>
  page.evaluate(
    ([id, a, b]) => {
      const at = new DOMPoint(1000 * a, 1000 * b).matrixTransform(document.querySelector(`#${id} > g`).getScreenCTM());
      return [at.x, at.y];
    },
    [drawing, x, y],
  );

/** The same in Read's drawing. */
export const spot = (page, place) => spotIn(page, 'read-drawing', place);

/** Waits until the core has read every point. */
export const allRead = (page) => page.locator('[aria-label*="still to be read"]').first().waitFor({ state: 'detached' });

/** Clicks a path onto the table, and waits until the core has read it if there is one. */
export async function draw(page, path = PATH, core = true) {
  for (const place of path) {
    const before = await handles(page).count();
    await page.mouse.click(...(await spot(page, place)));
    await handles(page).nth(before).waitFor();
  }
  if (core) await allRead(page);
}

export async function play(page) {
  await button(page, 'Play').click();
  await grade(page).waitFor();
}

/** What is on the clipboard: the page itself may not read it, but a player may paste. */
export async function pasted(page) {
  await page.evaluate(() => {
    const field = document.createElement('textarea');
    (document.querySelector('dialog[open]') ?? document.body).append(field);
    field.id = 'pasted';
    field.focus();
  });
  await page.keyboard.press('Control+V');
  return page.evaluate(() => {
    const field = document.getElementById('pasted');
    field.remove();
    return field.value;
  });
}

/** Lists what axe finds inaccessible. The policy forbids added script tags, but not the browser's own console. */
export async function inaccessible(page) {
  await page.evaluate(AXE);
  const { violations } = await page.evaluate(() => globalThis.axe.run());
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html, any }) => `${html} ${any[0]?.message ?? ''}`).join(' | ')}`);
}
