// The Log without a browser: its state, its pages of numbers, files in pieces.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { pieces } from '../../www/js/log/file.js';
import { MOST_ON_PAGE, blank, isSound, together, withCalls, without } from '../../www/js/log/pages.js';
import { lift, liftAll, putDown, waiting } from '../../www/js/log/pending.js';
import { EMPTY, chosen, drawn, listed, shownView, summed } from '../../www/js/log/state.js';
import { set } from '../../www/js/state.js';
import { caption, count, hint, storageWords } from '../../www/js/log/words.js';

const digest = (...more) => [1 + more.length, ...more];
const call = (id, ...more) => ({ id, digest: digest(...more) });
const page = () => withCalls(withCalls(blank(1), [call('a', 1, 2)]), [call('b', 3), call('c', 4, 5, 6)]);

test('a page takes calls, replaces them and gives them up', () => {
  const { ids, numbers } = page();
  assert.deepEqual(ids, ['a', 'b', 'c']);
  assert.deepEqual([...numbers], [3, 1, 2, 2, 3, 4, 4, 5, 6]);
  const fewer = without(page(), new Set(['a', 'c']));
  assert.deepEqual([fewer.ids, [...fewer.numbers]], [['b'], [2, 3]]);
  const changed = withCalls(page(), [call('b', 7, 8)]);
  assert.deepEqual([changed.ids, [...changed.numbers]], [['a', 'c', 'b'], [3, 1, 2, 4, 4, 5, 6, 3, 7, 8]]);
  const all = together([page(), fewer]);
  assert.deepEqual([all.ids.length, all.numbers.length], [4, 11]);
  assert.ok(MOST_ON_PAGE > 100);
});

test('what is no page is known as such', () => {
  assert.ok(isSound(page()) && isSound(blank(3)));
  const { numbers } = page();
  for (const bad of [null, 5, {}, { ids: ['a'] }, { ids: ['a'], numbers: [] }, { ids: ['a', 'b'], numbers }, { ids: ['a', 'b', 'c', 'd'], numbers },
    { ids: ['a'], numbers: new Float64Array([NaN]) }, { ids: ['a'], numbers: new Float64Array([0]) }, { ids: ['a'], numbers: new Float64Array([9, 1]) }]) {
    assert.equal(isSound(bad), false, JSON.stringify(bad));
  }
});

test('a file is cut at the ends of lines, and lines keep their numbers', () => {
  const lines = Array.from({ length: 40 }, (_, k) => `${k} `.padEnd(150_000, 'x'));
  const cut = [...pieces(lines.join('\n'))];
  assert.ok(cut.length > 2, 'in more than two pieces');
  let at = 0;
  for (const { piece, before } of cut) {
    assert.equal(before, at);
    for (const line of piece.split('\n')) assert.equal(line, lines[at++]);
  }
  assert.equal(at, 40);
  assert.deepEqual([...pieces('')], []);
  assert.deepEqual([...pieces('one\n')], [{ piece: 'one\n', before: 0 }]);
});

const skill = (id, n) => ({ id, name: id, n });
const summary = (...skills) => ({ n: 9, skills, sentences: [] });
const points = (n) => ({ x: Array(n).fill(1), y: Array(n).fill(1) });
const plots = (places, stops) => ({ name: 'Side', unit: 'degrees', n: 5000, places: points(places), stops: points(stops), groups: [], of: [] });

test('the skill with most calls is looked at first, and the chosen one stays', () => {
  const first = summed(EMPTY, summary(skill('a', 3), skill('b', 7)));
  assert.equal(first.skill, 'b');
  const other = chosen(first, 'a');
  assert.equal(other.skill, 'a');
  assert.equal(summed(other, summary(skill('a', 3), skill('b', 9))).skill, 'a');
  assert.equal(summed(other, summary(skill('b', 9))).skill, 'b', 'unless it was deleted');
  assert.equal(summed(other, summary()).skill, null);
  assert.equal(chosen(other, 'a'), other);
});

test('a late plot of another skill is not taken', () => {
  const state = set(EMPTY, { skill: 'a' });
  assert.equal(drawn(state, 'b', plots(1, 1)).plots, null);
  assert.ok(drawn(state, 'a', plots(1, 1)).plots);
});

test('a view that a skill does not have gives way to one that it has', () => {
  const seen = (view, places, stops) => shownView(set(EMPTY, { view, plots: plots(places, stops) }));
  assert.equal(seen('places', 5, 5), 'places');
  assert.equal(seen('places', 0, 5), 'stops');
  assert.equal(seen('places', 0, 0), 'time');
  assert.equal(seen('stops', 5, 0), 'places');
  assert.equal(seen('list', 0, 0), 'list');
  assert.equal(chosen(set(EMPTY, { view: 'list' }), 'a').view, 'places', 'a skill is chosen to be looked at');
});

test('what is said of counts, of the storage and of what is shown', () => {
  assert.deepEqual([count(1, 'call'), count(50_000, 'call')], ['1 call', '50,000 calls']);
  assert.match(storageWords(set(EMPTY, { storage: 'evictable' })), /may clear it when it runs out of room, and does when a private window closes/);
  assert.match(storageWords(set(EMPTY, { storage: 'none', held: 2 })), /2 calls could not be written and are held/);
  assert.match(storageWords(set(EMPTY, { storage: 'persistent', aside: ['id: altered'] })), /1 call could not be read and was put aside: id: altered/);
  assert.match(caption(set(EMPTY, { plots: plots(2000, 0) }), 'places'), /the latest 2,000 of 5,000 calls/);
  assert.match(hint(set(EMPTY, { summary: summary() })), /Looking for what to practise/);
  assert.deepEqual(listed(EMPTY, [], true).more, true);
});

test('calls wait under keys of their own, in the order of time, what tells more of one after it, and no more than so many', () => {
  const kept = {};
  const methods = {
    getItem: (key) => kept[key] ?? null,
    setItem: (key, text) => (kept[key] = text),
    removeItem: (key) => delete kept[key],
  };
  // As in a browser, its keys are those of what is kept.
  globalThis.localStorage = new Proxy(methods, { ownKeys: () => Object.keys(kept), getOwnPropertyDescriptor: () => ({ enumerable: true, configurable: true }) });
  const at = 1_790_000_000_000;
  kept['leaveline.read'] = 'another thing';
  for (const [more, amend] of [[2, false], [0, true], [0, false]]) assert.ok(putDown({ request: { at: at + more }, amend }));
  assert.deepEqual(waiting().map(({ request, amend }) => [request.at - at, amend]), [[0, false], [0, true], [2, false]]);
  lift(waiting()[0].key);
  kept['leaveline.call.1.call.5'] = '{';
  assert.equal(waiting().length, 2, 'what is spoilt is gone');
  for (let k = 0; k < 298; k += 1) assert.ok(putDown({ request: { at }, amend: false }));
  assert.equal(putDown({ request: { at }, amend: false }), null, 'it is full');
  liftAll();
  assert.deepEqual(Object.keys(kept), ['leaveline.read']);
  delete globalThis.localStorage;
  assert.deepEqual([putDown({ request: { at }, amend: false }), waiting()], [null, []], 'without any storage');
});
