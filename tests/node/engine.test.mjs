// The built engine in Node: the same bits as native code, without a browser.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import * as core from '../../www/pkg/leaveline.js';
import * as small from '../../www/pkg/read.js';

const read = (path) => readFile(new URL(`../../${path}`, import.meta.url));
const readJson = async (path) => JSON.parse(await read(path));
core.initSync({ module: await read('www/pkg/leaveline_bg.wasm') });
small.initSync({ module: await read('www/pkg/read_bg.wasm') });

const golden = await readJson('tests/golden/deals.json');

test('the published example plays to the last digit', async () => {
  const [shot, outcome] = await Promise.all(['shot', 'outcome'].map((name) => read(`www/schema/${name}.example.json`)));
  assert.equal(core.playText(shot.toString()), outcome.toString().trimEnd());
  assert.deepEqual(core.play(JSON.parse(shot)), JSON.parse(outcome));
});

test('packed numbers tell the same as the outcome', async () => {
  const shot = await readJson('www/schema/shot.example.json');
  const packed = core.playPacked(shot);
  const outcome = await readJson('www/schema/outcome.example.json');
  // In the shot's order: as a field, "3" comes before "cue".
  const samples = shot.balls.flatMap(({ id }) => outcome.paths[id].flat());
  assert.deepEqual([...packed.slice(0, 5)], [1, outcome.duration, 2, outcome.events.length, samples.length / 3]);
  assert.deepEqual([...packed.slice(-samples.length)], samples);
});

test('ends tell where the balls of the outcome are, stroke by stroke', async () => {
  const shot = await readJson('www/schema/shot.example.json');
  const { balls } = await readJson('www/schema/outcome.example.json');
  const { azimuth, elevation, speed, side, height } = shot.stroke;
  const told = core.ends(shot, new Float64Array([90, 0, 1, 0, 0, azimuth, elevation, speed, side, height]));
  assert.equal(told.length, 2 * 3 * balls.length);
  const rows = balls.map((_, k) => [...told.slice(3 * (balls.length + k)).slice(0, 3)]);
  for (const [k, { state, x, y }] of balls.entries()) {
    if (state === 'rest') assert.deepEqual(rows[k], [x, y, -1]);
    else assert.ok(rows[k][2] >= 0, `${rows[k]} fell`);
  }
});

for (const { deal, item, call, grade } of golden) {
  test(`level ${deal.level} is dealt and graded as natively`, () => {
    const question = core.deal(deal);
    assert.deepEqual(question.item, item);
    assert.deepEqual(core.openItem(question.item), question);
    const { question: sent, sealed } = core.openLink(core.makeLink({ item, call }));
    assert.deepEqual(sent, question);
    const result = core.grade({ item, call, sealed });
    assert.deepEqual(result.grade, grade);
    assert.deepEqual(result.sender, { call, grade });
  });
}

test('how a layout is set up is told ball by ball, the cue ball last', async () => {
  const shot = await readJson('www/schema/shot.example.json');
  const spots = core.setUp({ item: { version: 1, kind: 'read', model: 1, level: 1, shot } });
  assert.deepEqual(spots, [
    { ball: '3', diamonds: [3.78, 2.2], centimetres: [120, 70], words: 'diamond 3¾ from the head, 1 cm toward the foot; diamond 2¼ from the right, 1.5 cm toward the right' },
    { ball: 'cue', diamonds: [1.89, 1.26], centimetres: [60, 40], words: 'diamond 2 from the head, 3.5 cm toward the head; diamond 1¼ from the right, 0.5 cm toward the left' },
  ]);
});

test('links of both versions open in Node as natively', async () => {
  for (const version of [1, 2]) {
    let opened = 0;
    for (const { name, link, opens } of await readJson(`tests/golden/links-${version}.json`)) {
      if (!/^(read|leave|clear)=/.test(link)) continue;
      try {
        assert.deepEqual(core.openLink(link).question.item, JSON.parse(opens).item, `version ${version}, ${name}`);
        opened += 1;
      } catch (error) {
        // Some are kept for their numbers alone: their cue ball meets nothing.
        assert.equal(error.field, 'shot', `version ${version}, ${name}: ${error}`);
      }
    }
    assert.ok(opened >= 20, `${opened} of version ${version}`);
  }
});

test('the true path earns the whole mark', () => {
  for (const { item, call } of golden) {
    const { path, touches, stop } = core.grade({ item, call });
    const called = touches.map(({ x, y, rail }) => ({ x, y, rail }));
    if (!called.length) {
      const bends = path.slice(1, -1).slice(0, 32);
      called.push(...bends.map(([x, y]) => ({ x, y })));
    }
    const { grade } = core.grade({ item, call: { points: called, stop: { x: stop.x, y: stop.y } } });
    assert.ok(grade.mark >= 99.9, `level ${item.level}: ${grade.mark}, ${grade.sentence}`);
  }
});

test('what is wrong is thrown by field and rule, and the engine goes on', () => {
  const [{ deal, item }] = golden;
  for (const [ask, field, rule] of [
    [() => core.deal({ ...deal, level: 9 }), 'level', 'must be a whole number from 1 to 6'],
    [() => core.openLink('read=1.e30.AAAAAA'), 'link', 'the link is cut off or altered: ask for it again'],
    [() => core.grade({ item, call: { points: [], stop: { x: NaN, y: 0 } } }), 'call.stop.x', 'must be a finite number'],
    [() => core.playText(' '.repeat(300_000)), 'text.length', 'must have at most 262144 characters'],
  ]) {
    assert.throws(ask, (error) => error instanceof Error && error.name === 'LeavelineError' && error.field === field && error.rule === rule);
  }
  assert.deepEqual(core.deal(deal).item, item);
});

test('two searches for the best stroke that tell each other what they find end as one alone', () => {
  const { item } = core.dealLeave({ level: 2, seed: 7 });
  const made = (share) => new core.BestSearch({ item, hand: 'makes-60', ...share });
  const whole = made({}).step(1_000_000);
  assert.equal(whole.done, 1);
  assert.equal(whole.waits, false);
  const both = [0, 1].map((worker) => made({ worker, workers: 2 }));
  const last = both.map((one) => one.step(300));
  for (let k = 0; last.some(({ done }) => done < 1); k = 1 - k) {
    for (let told = both[k].tell(); told; told = both[k].tell()) both[1 - k].hear(k, told);
    both.forEach((one, j) => (last[j] = one.step(300)));
  }
  assert.deepEqual(last, [whole, whole]);
  assert.throws(() => both[0].hear(1, new Float64Array(3)), { field: 'numbers' });
  assert.throws(() => made({ worker: 2, workers: 2 }), { field: 'worker' });
});

test('the small package deals, grades and explains as the whole one', () => {
  for (let seed = 1; seed <= 8; seed++) {
    const told = [core, small].map(({ deal, grade, why, makeLink, openLink }) => {
      const { item } = deal({ level: 1 + (seed % 5), seed });
      const link = makeLink({ item });
      const call = { points: [], stop: { x: 1, y: 0.5 } };
      return [item, link, openLink(link), grade({ item, call }), why({ item })];
    });
    assert.deepEqual(told[1], told[0], `seed ${seed}`);
  }
});
