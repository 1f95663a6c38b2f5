// Parts of the page that need no browser: what is kept, the worker's client, hits, tracks, labels.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { MOST_POINTS } from '../../www/pkg/first.js';
import { LIMITS } from '../../www/pkg/limits.js';
import { createEngine } from '../../www/js/engine/client.js';
import { searchShared } from '../../www/js/engine/shared.js';
import { latest } from '../../www/js/newest-request.js';
import { store } from '../../www/js/read/session.js';
import { hit } from '../../www/js/path/pointer.js';
import { createPlacer } from '../../www/js/table/labels.js';
import { pathOf, placeAt, shownAt } from '../../www/js/table/balls.js';

const { find, read, write } = store;

/** A storage with room for so many characters. */
function storage(room = Infinity) {
  const map = new Map();
  return {
    getItem: (key) => map.get(key) ?? null,
    setItem: (key, text) => {
      if (text.length > room) throw new DOMException('full', 'QuotaExceededError');
      map.set(key, text);
    },
  };
}
const entry = (link, points = []) => ({ link, item: { level: 1 }, points, sealed: null, played: false });

test('the page stops where the schemas do', () => {
  const schema = (name) => JSON.parse(readFileSync(new URL(`../../www/schema/${name}.schema.json`, import.meta.url), 'utf8'));
  const { properties: set, $defs: { entry: { properties: item } } } = schema('set');
  const most = (of) => [of.title.maxLength, of.note.maxLength];
  assert.deepEqual(most(set), [LIMITS.longestTitle, LIMITS.longestNote], 'of a set');
  assert.deepEqual(most(item), [LIMITS.longestTitle, LIMITS.longestNote], 'of its items');
  assert.equal(set.entries.maxItems, LIMITS.mostEntries);
  assert.equal(schema('item').$defs.demand.properties.rails.maxItems, LIMITS.mostRails);
  assert.equal(schema('call').properties.points.maxItems + 1, MOST_POINTS, 'the stop is the last point');
});

test('what is written is read again, the latest last', () => {
  const kept = storage();
  assert.deepEqual(read(kept), { kept: { version: 1, level: 1, entries: [] }, broken: false });
  for (const link of ['a', 'b', 'a']) assert.ok(write(entry(link), 3, kept));
  assert.deepEqual(read(kept).kept.entries.map(({ link }) => link), ['b', 'a']);
  assert.equal(read(kept).kept.level, 3);
  assert.equal(find('b', kept).link, 'b');
  for (let k = 0; k < 40; k++) write(entry(`n${k}`), 1, kept);
  assert.equal(read(kept).kept.entries.length, 20, 'old items make room');
});

test('a full storage drops old items first, and says when nothing fits', () => {
  const kept = storage(400);
  for (const link of ['a', 'b', 'c', 'd', 'e', 'f']) assert.ok(write(entry(link), 1, kept));
  assert.equal(read(kept).kept.entries.at(-1).link, 'f');
  assert.equal(write(entry('x'.repeat(500)), 1, kept), false);
  assert.equal(read(kept).kept.entries.at(-1).link, 'f', 'what was there is still there');
});

test('what cannot be read is left out and said', () => {
  for (const text of ['{', '[]', 'null', '{"version":2,"entries":[]}', '{"version":1,"level":1,"entries":[{"link":5}]}']) {
    const kept = storage();
    kept.setItem('leaveline.read', text);
    assert.deepEqual(read(kept), { kept: { version: 1, level: 1, entries: [] }, broken: true }, text);
  }
});

/** An engine over workers that are played by the test. */
function played(patience) {
  const workers = [];
  const engine = createEngine(() => {
    const worker = { sent: [], ended: false, postMessage: (message) => worker.sent.push(message), terminate: () => (worker.ended = true) };
    workers.push(worker);
    worker.reply = (data) => worker.onmessage({ data });
    return worker;
  }, { patience });
  return { engine, workers };
}

test('requests wait for the core, and each gets its own reply', async () => {
  const { engine, workers } = played();
  const [one, two] = [engine.ask('levels'), engine.ask('freshSeed')];
  const [worker] = workers;
  assert.deepEqual(worker.sent, [{ start: true, module: null }]);
  worker.reply({ ready: true, module: 'compiled' });
  const [, first, second] = worker.sent;
  worker.reply({ id: second.id, value: 7 });
  worker.reply({ id: first.id, value: [] });
  assert.deepEqual(await Promise.all([one, two]), [[], 7]);
});

test('a page that was frozen for longer than its patience still takes the answer that comes after', async () => {
  const { engine, workers } = played(200);
  engine.wake();
  const [worker] = workers;
  worker.reply({ ready: true, module: null });
  const asked = engine.ask('levels');
  const end = performance.now() + 300;
  while (performance.now() < end);
  setTimeout(() => worker.reply({ id: worker.sent[1].id, value: [] }));
  assert.deepEqual(await asked, []);
  assert.equal(worker.ended, false);
});

test('a refusal crosses as data and leaves the worker alone', async () => {
  const { engine, workers } = played();
  const asked = engine.ask('openLink', '#x');
  workers[0].reply({ ready: true, module: null });
  workers[0].reply({ id: workers[0].sent[1].id, error: { name: 'LeavelineError', field: 'link', rule: 'is cut', message: 'link: is cut' }, fatal: false });
  await assert.rejects(asked, { kind: 'refused', field: 'link', rule: 'is cut' });
  assert.equal(workers[0].ended, false);
});

test('workers that share a search have a way to each other, on which nothing is lost, and end together', async () => {
  const both = [played(), played()];
  const seen = [];
  const stop = new AbortController();
  const asked = searchShared(both.map(({ engine }) => engine), { item: 1 }, (progress) => seen.push(progress), stop.signal);
  const [early, late] = both.map(({ workers }) => workers[0]);
  early.reply({ ready: true, module: null });
  const { id, peers: [own, way], ...job } = early.sent[1];
  assert.deepEqual([job, own], [{ job: 'BestSearch', request: { item: 1, worker: 0, workers: 2 } }, null]);
  way.postMessage('told before the other has begun');
  early.reply({ id, progress: { done: 0.5 } });
  late.reply({ ready: true, module: null });
  const { id: theirs, peers: [back, other], request } = late.sent[1];
  assert.deepEqual([request, other], [{ item: 1, worker: 1, workers: 2 }, null]);
  const heard = await new Promise((done) => (back.onmessage = ({ data }) => done(data)));
  assert.equal(heard, 'told before the other has begun');
  late.reply({ id: theirs, progress: { done: 0.4 } });
  early.reply({ id, value: { done: 1 } });
  late.reply({ id: theirs, value: { done: 1 } });
  assert.deepEqual(await asked, { done: 1 });
  assert.deepEqual(seen, [{ done: 0.5 }], 'the first tells how far all are');
  for (const port of [way, back]) port.close();
});

test('a shared search is given up by all workers when it is stopped, or when one of them fails', async () => {
  for (const fails of [false, true]) {
    const both = [played(), played()];
    const stop = new AbortController();
    const asked = searchShared(both.map(({ engine }) => engine), {}, () => {}, stop.signal);
    const [one, other] = both.map(({ workers }) => workers[0]);
    for (const worker of [one, other]) worker.reply({ ready: true, module: null });
    if (fails) one.reply({ id: one.sent[1].id, error: { name: 'LeavelineError', message: 'no' }, fatal: false });
    else stop.abort();
    await assert.rejects(asked, { kind: fails ? 'refused' : 'failed' });
    assert.deepEqual(other.sent.at(-1), { cancel: other.sent[1].id });
    assert.equal(other.ended, false, 'it goes on with what else it owes');
  }
});

test('a trap ends the worker and whatever it owed; the next one gets the compiled module', async () => {
  const { engine, workers } = played();
  const [one, two] = [engine.ask('levels'), engine.ask('freshSeed')];
  workers[0].reply({ ready: true, module: 'compiled' });
  workers[0].reply({ id: workers[0].sent[1].id, error: { name: 'RuntimeError', message: 'unreachable' }, fatal: true });
  await assert.rejects(one, { kind: 'failed' });
  await assert.rejects(two, { kind: 'failed' });
  assert.ok(workers[0].ended);
  const again = engine.ask('levels');
  assert.deepEqual(workers[1].sent, [{ start: true, module: 'compiled' }]);
  workers[1].reply({ ready: true, module: 'compiled' });
  workers[1].reply({ id: workers[1].sent[1].id, value: [] });
  assert.deepEqual(await again, []);
});

test('a core that does not answer is given up; a slow start is not', async () => {
  const { engine, workers } = played(30);
  const asked = engine.ask('levels');
  await new Promise((done) => setTimeout(done, 60));
  assert.equal(workers[0].ended, false, 'a slow network is no hang');
  workers[0].reply({ ready: true, module: null });
  await assert.rejects(asked, { kind: 'failed', name: 'Timeout' });
  assert.ok(workers[0].ended);
});

test('of many wishes only the newest waits', async () => {
  const seen = [];
  const queue = latest(async (input) => {
    await null;
    seen.push(input);
  });
  for (const input of [1, 2, 3, 4]) queue.push(input);
  await queue.settled();
  assert.deepEqual(seen.at(-1), 4);
  assert.ok(seen.length <= 2, `${seen}`);
});

test('a pointer finds the nearest handle, then a line, then the cloth', () => {
  const ghost = { x: 0, y: 0 };
  const points = [{ x: 1, y: 0 }, { x: 1, y: 1 }];
  const reach = { handle: 0.1, line: 0.05 };
  assert.deepEqual(hit({ x: 1.02, y: 0.03 }, ghost, points, reach), { kind: 'handle', at: 0 });
  assert.deepEqual(hit({ x: 0.02, y: 0 }, ghost, points, reach), { kind: 'ghost' });
  assert.deepEqual(hit({ x: 0.5, y: 0.04 }, ghost, points, reach), { kind: 'line', at: 0 });
  assert.deepEqual(hit({ x: 1.04, y: 0.5 }, ghost, points, reach), { kind: 'line', at: 1 });
  assert.deepEqual(hit({ x: 0.5, y: 0.5 }, ghost, points, reach), { kind: 'cloth' });
});

test('a ball is shown on the chord between its samples, until it falls', () => {
  const samples = Float64Array.of(0, 0, 0, 1, 1, 0, 2, 1, 2);
  assert.deepEqual(placeAt(samples, -1), [0, 0]);
  assert.deepEqual(placeAt(samples, 0.25), [0.25, 0]);
  assert.deepEqual(placeAt(samples, 1.5), [1, 1]);
  assert.deepEqual(placeAt(samples, 9), [1, 2]);
  assert.equal(shownAt({ id: '3', samples, pocketedAt: 1.5 }, 1.5), null);
  const tracks = [{ id: 'cue', samples, pocketedAt: null }];
  assert.deepEqual(pathOf(tracks, 'cue', 0.5, 0.4), []);
  assert.deepEqual(pathOf(tracks, 'cue', 0.5, 1.5), [[0.5, 0], [1, 0], [1, 1]]);
});

test('texts take the first free place', () => {
  const placer = createPlacer([0, 0, 100, 100], 10);
  placer.avoid({ x: 50, y: 50 }, 10);
  const spots = [{ x: 50, y: 50, anchor: 'middle' }, { x: 50, y: 75, anchor: 'middle' }, { x: 50, y: 20, anchor: 'middle' }];
  assert.equal(placer.place('1.5', spots), spots[1]);
  assert.equal(placer.place('1.5', spots), spots[2], 'the second place is taken by now');
});
