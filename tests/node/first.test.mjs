// What the page brings with it is what the core says, and a call takes points before the core is there.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { createEarly } from '../../www/js/read/sight.js';
import { callOf, placed, read, undone, unread } from '../../www/js/path/state.js';
import { EMPTY, opened } from '../../www/js/read/state.js';
import { createModel } from '../../www/js/state.js';
import { FIRST, LEVELS } from '../../www/pkg/first.js';

for (const name of ['read', 'leaveline']) {
  test(`the first item is the one that the core deals, to the last bit: ${name}`, async () => {
    const core = await import(`../../www/pkg/${name}.js`);
    core.initSync({ module: await readFile(new URL(`../../www/pkg/${name}_bg.wasm`, import.meta.url)) });
    const { item } = FIRST.question;
    const dealt = core.deal({ level: item.level, seed: item.seed });
    assert.deepStrictEqual(FIRST.question, dealt);
    assert.equal(FIRST.link, core.makeLink({ item: dealt.item }));
    assert.deepStrictEqual(LEVELS, core.levels());
    assert.deepStrictEqual(core.openLink(FIRST.link).question, dealt, 'its link opens it');
    const call = { points: [], stop: FIRST.question.aim.ghost };
    assert.deepStrictEqual(core.grade({ item: FIRST.question.item, call }), core.grade({ item: dealt.item, call }));
  });
}

const place = (x, y) => ({ place: { x, y }, snap: true, reach: 0.05 });
const asRead = ({ place: { x, y } }) => ({ x: Math.round(x), y: Math.round(y), words: `${x} ${y}` });

test('points that are placed before the core is there are read when it is, in steps that were taken back too', async () => {
  globalThis.requestAnimationFrame ??= () => 0;
  const model = createModel(opened(EMPTY, FIRST.question));
  let ready = false;
  const asked = [];
  const waiting = [];
  const early = createEarly(model);
  for (const [x, y] of [[0.9, 0.1], [1.1, 0.9], [2.2, 0.4]]) model.change(placed, await early.snap(place(x, y)), model.state.points.length);
  model.change(undone);
  assert.equal(model.state.points.length, 2);
  assert.deepEqual(callOf(model.state.points), { points: [{ x: 0.9, y: 0.1 }], stop: { x: 1.1, y: 0.9 } }, 'as they were placed');
  const settled = early.settled();
  assert.deepEqual(asked, [], 'nobody is there yet who could be asked');
  early.connect({ isReady: () => ready }, async (request) => {
    asked.push(request);
    if (!ready) await new Promise((done) => waiting.push(done));
    return asRead(request);
  });
  await null;
  ready = true;
  for (const done of waiting) done();
  await settled;
  assert.equal(unread(model.state), null);
  assert.deepEqual(model.state.points, [{ x: 1, y: 0, words: '0.9 0.1' }, { x: 1, y: 1, words: '1.1 0.9' }]);
  assert.deepEqual(model.state.future[0].points[2], { x: 2, y: 0, words: '2.2 0.4' }, 'what was taken back is read as well');
  assert.equal(asked.length, 3, 'each is asked for once');
  assert.deepEqual(await early.snap(place(2, 1)), { x: 2, y: 1, words: '2 1' }, 'from then on the core is asked');
});

test('a point that is gone is not put back when it is read', () => {
  const one = { x: 0.5, y: 0.5, words: '', asked: place(0.5, 0.5) };
  const state = opened(EMPTY, FIRST.question);
  assert.deepEqual(read(state, one, { x: 1, y: 1, words: 'read' }).points, []);
});
