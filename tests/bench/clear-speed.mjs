// Measures how soon Clear has a plan, how good it is, and what memory the page takes: node tests/bench/clear-speed.mjs [runs]
// What it needs has been built: scripts/bench page does, and calls it.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { chromium } from 'playwright-core';
import { serve } from '../../scripts/serve.mjs';
import * as core from '../../www/pkg/leaveline.js';

/** The deal that is measured, and the hand, which is the page's first. */
const WISH = { level: 3, seed: 7, game: 'rotation', balls: 7 };
const HAND = 'makes-85';
/** When the plan is looked at, s. */
const SOON = 10;
const LATE = 120;
/** The series of the runs by which plans are compared. */
const SEED = 90_210;
/** Rounds in which a fine plan is tried out; a first one is not. */
const ROUNDS = 3;
const SCREEN = { width: 1280, height: 800 };

core.initSync({ module: readFileSync(new URL('../../www/pkg/leaveline_bg.wasm', import.meta.url)) });

/** @param {boolean} fine */
function guide(fine) {
  const { item } = core.dealClear(WISH);
  const request = (ask, bytes) => ({ request: { item, hand: HAND, fine, ask }, ...(bytes ? { bytes } : {}) });
  const job = new core.ClearGuide(request({ kind: 'fill', from: 0, to: 0 }));
  const now = ['plan', 'runs', 'race', 'lap', 'pass'];
  return (ask, bytes) => {
    job.turn(request(now.includes(ask.kind) ? { ...ask, now: item } : ask, bytes));
    for (;;) {
      const progress = job.step(4096);
      if (progress.done === 1) return progress;
    }
  };
}

/** The way that wins the race. */
function raced(ask) {
  let { race } = ask({ kind: 'race' });
  while (!race.over) {
    const { ways, from, to } = race;
    ({ race } = ask({ kind: 'pass' }, ask({ kind: 'lap', ways, from, to }).bytes));
  }
  return race.taken;
}

/** How many of the runs with these numbers are cleared by a plan that is so far. */
function cleared({ kind, runs }) {
  const ask = guide(kind !== 'first');
  const { shelves, first, cells } = ask({ kind: 'fill', from: 0, to: 0 });
  ask({ kind: 'fill', from: 0, to: kind === 'first' ? first : shelves });
  for (let round = 0; kind !== 'first' && round < ROUNDS; round += 1) ask({ kind: 'try', from: 0, to: cells });
  return ask({ kind: 'runs', seed: SEED, from: 0, to: runs, way: kind === 'raced' ? raced(ask) : null }).runs;
}

async function page() {
  const { item } = core.dealClear(WISH);
  const server = await serve(fileURLToPath(new URL('../../www', import.meta.url)), 0);
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-dev-shm-usage', '--disable-background-networking'],
  });
  const context = await browser.newContext({ viewport: SCREEN });
  const one = await context.newPage();
  one.on('pageerror', (error) => console.error(error));
  await one.goto(`${server.url}#${core.makeLink({ item })}`);
  await one.locator('#clear-drawing .ball').first().waitFor();
  const start = performance.now();
  const since = () => (performance.now() - start) / 1000;
  await one.getByRole('button', { name: 'Plan', exact: true }).click();
  const said = (pattern) => one.locator('#clear-found').filter({ hasText: pattern }).waitFor({ timeout: 600_000 }).then(since);
  let kind = 'none';
  const [first, fine, won, proved] = [/^A first plan|played out|Playing it out/, /played out|Playing it out/, / ways to play /, / of 256 were cleared/].map(said);
  void first.then(() => (kind = kind === 'none' ? 'first' : kind));
  void fine.then(() => (kind = kind === 'raced' ? kind : 'fine'));
  void won.then(() => (kind = 'raced'));
  await one.waitForTimeout(Math.max(0, SOON * 1000 - since() * 1000));
  const soon = kind;
  const memory = await resident(browser);
  await one.waitForTimeout(Math.max(0, LATE * 1000 - since() * 1000));
  const late = kind;
  const after = await resident(browser);
  const times = await Promise.all([first, fine, won, proved]);
  await browser.close();
  await server.close();
  return { times, soon, late, memory: Math.max(memory, after) };
}

/** What the largest process that shows a page holds, MB: the page and its workers with their cores, and all that the browser brings. */
async function resident(browser) {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  const sizes = processInfo.filter(({ type }) => type === 'renderer').map(({ id }) => {
    const [, kilobytes] = /^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${id}/smaps_rollup`, 'utf8')) ?? [];
    return Number(kilobytes) / 1000;
  });
  return Math.max(...sizes);
}

if (isMainThread) {
  const runs = Number(process.argv[2] ?? 2000);
  const { times: [first, fine, won, proved], soon, late, memory } = await page();
  console.log(`Clear, seven balls in rotation: first plan after ${first.toFixed(1)} s, fine one after ${fine.toFixed(1)} s, by the best way after ${won.toFixed(1)} s, 256 runs played out after ${proved.toFixed(1)} s; the page's process holds ${memory.toFixed(0)} MB.`);
  const play = (kind) => new Promise((done, fail) => {
    const worker = new Worker(new URL(import.meta.url), { workerData: { kind, runs } });
    worker.once('message', done).once('error', fail);
  });
  const kinds = [...new Set([soon, late])].filter((kind) => kind !== 'none');
  const shares = new Map(await Promise.all(kinds.map(async (kind) => [kind, (await play(kind)).chance])));
  const told = (kind) => (shares.has(kind) ? `${(100 * shares.get(kind).share).toFixed(1)} % (${(100 * shares.get(kind).low).toFixed(1)} to ${(100 * shares.get(kind).high).toFixed(1)})` : 'no plan');
  console.log(`Played out ${runs} times with the same luck: the plan after ${SOON} s (${soon}) ${told(soon)}, after ${LATE} s (${late}) ${told(late)}.`);
} else {
  parentPort.postMessage(cleared(workerData));
}
