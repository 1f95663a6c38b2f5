// Opens the page in a real browser for the tests.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { serve } from '../../scripts/serve.mjs';

const www = fileURLToPath(new URL('../../www', import.meta.url));
const axe = await readFile(new URL(import.meta.resolve('axe-core/axe.min.js')), 'utf8');

/**
 * Serves www/ and opens `path` in Chromium; whatever the page reports as an error fails `close`.
 * @param {string} path
 * @param {import('playwright-core').BrowserContextOptions} options
 */
export async function open(path = '', options = {}) {
  const server = await serve(www, 0);
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-dev-shm-usage', '--disable-background-networking'],
  });
  const page = await (await browser.newContext(options)).newPage();
  /** @type {string[]} */
  const errors = [];
  page.on('pageerror', (error) => errors.push(String(error)));
  page.on('console', (message) => message.type() === 'error' && errors.push(message.text()));
  await page.goto(server.url + path);
  const close = async () => {
    await browser.close();
    await server.close();
    assert.deepEqual(errors, [], 'the page reported errors');
  };
  return { page, url: server.url, close };
}

/** Lists what axe finds inaccessible. The policy forbids added script tags, but not the browser's own console. */
export async function inaccessible(page) {
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() => globalThis.axe.run());
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
}
