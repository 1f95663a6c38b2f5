// Measures natively and in Chromium in turns, and prints one table: node tests/bench/run.mjs [rounds]
// What it needs has been built: scripts/bench does.
import { execFile } from 'node:child_process';
import { copyFile, cp, mkdtemp, readFile, rm } from 'node:fs/promises';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { chromium } from 'playwright-core';
import { serve } from '../../scripts/serve.mjs';
import { table } from './table.mjs';

const rounds = Number(process.argv[2] ?? 4);
const here = fileURLToPath(new URL('.', import.meta.url));
const folder = await mkdtemp(join(tmpdir(), 'leaveline-bench-'));
const measurements = join(folder, 'criterion');

/** Runs a part of the native package, and gives what it prints. */
async function cargo(...words) {
  const env = { ...process.env, CRITERION_HOME: measurements };
  const { stdout } = await promisify(execFile)('cargo', words, { cwd: here, env, maxBuffer: 1 << 26 });
  return stdout;
}
const lines = (text) =>
  text
    .split('\n')
    .filter((line) => line.startsWith('{'))
    .map((line) => JSON.parse(line));
const QUICK = ['--noplot', '--warm-up-time', '0.2', '--measurement-time', '0.6', '--sample-size', '10'];

/** The least time of one iteration in the latest native run, ns. */
async function sampled(group, name) {
  const { iters, times } = JSON.parse(await readFile(join(measurements, group, name, 'new', 'sample.json'), 'utf8'));
  return Math.min(...times.map((time, k) => time / iters[k]));
}

const scenes = JSON.parse(await cargo('run', '--release', '--bin', 'scenes'));

// The page: the shipped engine, and a worker of its own beside it.
const www = join(folder, 'www');
await cp(join(here, 'page'), www, { recursive: true });
await cp(join(here, '../../www/pkg'), join(www, 'pkg'), { recursive: true });
await copyFile(fileURLToPath(import.meta.resolve('tinybench')), join(www, 'tinybench.js'));
const server = await serve(www, 0);
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-dev-shm-usage', '--disable-background-networking'],
});
const page = await browser.newPage();
page.on('console', (message) => console.error(message.text()));
page.on('pageerror', (error) => console.error(error));
await page.goto(server.url);
await page.evaluate(() => globalThis.ready);

const least = (old = Infinity, next) => Math.min(old, next);
for (let round = 1; round <= rounds; round += 1) {
  console.error(`Round ${round} of ${rounds}`);
  await cargo('bench', '--bench', 'shots', '--', ...QUICK);
  for (const scene of scenes) {
    const { name, shot, strokes, shots } = scene;
    const chromium = await page.evaluate((request) => globalThis.measure(request), { shot, strokes, shots, time: 600 });
    scene.native = least(scene.native, (await sampled(name, 'ends')) / (strokes.length / 5));
    scene.nativeRecorded = least(scene.nativeRecorded, (await sampled(name, 'recorded')) / shots.length);
    scene.chromium = least(scene.chromium, chromium.ends);
    scene.chromiumRecorded = least(scene.chromiumRecorded, chromium.recorded);
  }
}
const version = browser.version();
await browser.close();
await server.close();

await cargo('bench', '--bench', 'parts', '--', ...QUICK);
const per = {};
for (const name of [...scenes.map(({ name }) => `cushion-${name}`), 'cushion-any', 'balls-any', 'pair-missed', 'pair-met']) {
  const { throughput } = JSON.parse(await readFile(join(measurements, 'parts', name, 'new', 'benchmark.json'), 'utf8'));
  per[name] = (await sampled('parts', name)) / throughput.Elements;
}
const allocations = lines(await cargo('bench', '--bench', 'allocations'));
const steps = lines(await cargo('bench', '--bench', 'rigid', '--', '--noplot'));
const best = steps.pop();
const rigid = await sampled('b', 'rigid');
await rm(folder, { recursive: true });

const round = (number, digits = 0) => number.toLocaleString('en', { maximumFractionDigits: digits, minimumFractionDigits: digits });
const rate = (ns) => round(1e9 / ns);
console.log(`${cpus()[0].model}, one core, best of ${rounds} rounds; Chromium ${version}\n`);
table(
  ['scene', 'shots/s', 'Chromium', 'ratio', 'ns/event', 'events', 'allocations', 'bytes'],
  scenes.map((scene, k) => [
    `${scene.name}: ${scene.words}`,
    rate(scene.native),
    rate(scene.chromium),
    round(scene.native / scene.chromium, 2),
    round(scene.native / scene.events),
    round(scene.events, 1),
    round(allocations[k].blocks, 1),
    round(allocations[k].bytes),
  ]),
);
table(
  ['recorded', 'shots/s', 'Chromium', 'ratio', 'allocations', 'bytes'],
  scenes.map((scene, k) => [
    scene.name,
    rate(scene.nativeRecorded),
    rate(scene.chromiumRecorded),
    round(scene.nativeRecorded / scene.chromiumRecorded, 2),
    round(allocations[k].recordedBlocks),
    round(allocations[k].recordedBytes),
  ]),
);

// What the impacts and the search for meetings alone would take, each at its own price.
table(
  ['floor', 'ns/shot', 'cushions', 'ns each', 'contacts', 'ns each', 'pairs', 'ns each', 'floor', 'of the shot'],
  scenes.map((scene) => {
    const cushion = per[`cushion-${scene.name}`];
    const parts = [scene.cushions * cushion, scene.contacts * per['balls-any'], scene.pairs * per['pair-missed']];
    const floor = parts.reduce((sum, part) => sum + part, 0);
    return [
      scene.name,
      round(scene.native),
      round(scene.cushions, 1),
      round(cushion),
      round(scene.contacts, 1),
      round(per['balls-any']),
      round(scene.pairs, 1),
      round(per['pair-missed']),
      round(floor),
      `${round((100 * floor) / scene.native)} %`,
    ];
  }),
);
console.log(`A cushion impact of any kind takes ${round(per['cushion-any'])} ns, a pair of balls that will meet ${round(per['pair-met'])} ns.\n`);

const cut = scenes[1];
table(
  ['a rigid-body engine on scene b, steps/s', 'off, mm', 'cue ball, degrees', 'object ball, degrees'],
  steps.map(({ rate, place, cueBall, objectBall }) => [round(rate), round(1000 * place, 3), round(cueBall, 4), round(objectBall, 4)]),
);
console.log(`At its best, ${round(best.best)} steps/s with ${best.substeps} substeps, ${round(1000 * best.place, 3)} mm off, a shot takes it ${round(rigid / 1e6, 1)} ms: ${round(rigid / cut.native)} times ours.`);
