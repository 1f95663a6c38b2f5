// Plays all recorded shots in a browser, by the shipped package and under the page's own policy.
import assert from 'node:assert/strict';
import { cp, mkdtemp, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { serve } from '../../scripts/serve.mjs';
import { BLOCKS, PACKAGE, SHOTS, compare } from './corpus.mjs';
import { start } from './webdriver.mjs';

const PAGE = fileURLToPath(new URL('page', import.meta.url));
/** How long all shots may take on a busy machine, ms. */
const PATIENCE = 180_000;

/** @param {import('node:test').TestContext} context @param {Parameters<typeof start>[0]} engine */
export async function playIn(context, engine) {
  const folder = await mkdtemp(join(tmpdir(), 'leaveline-'));
  context.after(() => rm(folder, { recursive: true }));
  await cp(PAGE, folder, { recursive: true });
  await symlink(PACKAGE, join(folder, 'pkg'));
  await symlink(SHOTS, join(folder, 'shots'));
  const server = await serve(folder, 0);
  context.after(server.close);
  const browser = await start(engine);
  context.after(browser.close);

  await browser.open(`${server.url}?blocks=${[...BLOCKS.keys()]}`);
  for (const until = Date.now() + PATIENCE; (await browser.title()) !== 'done'; await sleep(100)) {
    assert.ok(Date.now() < until, `${browser.name} has not played the shots in ${PATIENCE} ms`);
  }
  const { digests, error } = JSON.parse(await browser.text('output'));
  assert.equal(error, undefined);
  await compare(digests);
  context.diagnostic(`${browser.name} gives the recorded digests`);
}
