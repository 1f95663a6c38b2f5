// The Sets screen's state, headless.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { EMPTY, added, changed, chose, dropped, entriesOf, isOwn, moved, opened, openSet, redone, removed, turned, undone } from '../../www/js/sets/state.js';
import { fileName } from '../../www/js/sets/files.js';
import { dayOf, idOfDay, keepMarks, marksOf } from '../../www/js/sets/daily-scores.js';
import { freshId } from '../../www/js/sets/kept.js';
import { cells, hint } from '../../www/js/sets/words.js';
import { named } from '../../www/js/which-part.js';

const entry = (title) => ({ title, note: '', item: { kind: 'read' } });
const set = (...titles) => ({ version: 1, kind: 'set', title: 'Mine', note: '', pass: { mark: 50, need: 7 }, entries: titles.map(entry) });
const titles = (state) => entriesOf(state).map(({ title }) => title).join('');
const mine = () => added(EMPTY, { id: 'own-1', set: set('a', 'b', 'c') });

test('an item goes where it is moved, stays chosen, and every step is undone', () => {
  let state = moved(mine(), 0, 2);
  assert.equal(titles(state), 'bca');
  assert.equal(state.chosen, 2);
  assert.equal(moved(state, 2, 3), state, 'there is no place behind the last');
  state = removed(state);
  assert.equal(titles(state), 'bc');
  assert.equal(state.chosen, 1);
  assert.equal(titles(undone(undone(state))), 'abc');
  assert.equal(titles(redone(undone(state))), 'bc');
  assert.equal(titles(removed(removed(removed(state)))), '', 'an empty set has nothing to remove');
});

test('what is revealed is covered with the next choice', () => {
  const state = turned(mine());
  assert.equal(state.revealed, true);
  assert.equal(chose(state, 1).revealed, false);
  assert.equal(chose(state, 0), state, 'the same choice changes nothing');
  assert.equal(chose(state, 9).chosen, 2, 'the last is the last');
});

test('a set that is not the own one cannot be changed', () => {
  const state = opened(EMPTY, 'ready-stun', { lent: set('a', 'b') });
  assert.equal(isOwn(state), false);
  assert.equal(removed(state), state);
  assert.equal(moved(state, 0, 1), state);
  assert.equal(changed(state, () => set()), state);
});

test('a set that was deleted comes back', () => {
  const state = dropped(mine(), null);
  assert.equal(openSet(state), null);
  assert.equal(titles(undone(state)), 'abc');
});

test('names: of files, of new sets, of addresses', () => {
  assert.equal(fileName('Über: the 2nd week!'), 'über-the-2nd-week.json');
  assert.equal(fileName('…'), 'set.json');
  assert.equal(freshId([{ id: 'own-4', set: set() }, { id: 'other', set: set() }]), 'own-5');
  assert.deepEqual(named('set=1.x'), { name: 'sets', link: 'set=1.x' });
  assert.deepEqual(named('sets'), { name: 'sets', link: '' });
});

test('the first mark of each item counts for its day, and a hundred days are kept', () => {
  const kept = new Map();
  globalThis.localStorage = { getItem: (key) => kept.get(key) ?? null, setItem: (key, text) => kept.set(key, text) };
  keepMarks('2026-11-26', [null, null]);
  assert.equal(marksOf('2026-11-26'), null, 'nothing was played');
  keepMarks('2026-11-26', [null, 41]);
  keepMarks('2026-11-26', [0, 99]);
  assert.deepEqual(marksOf('2026-11-26'), [0, 41]);
  for (let k = 0; k < 100; k += 1) keepMarks(`2027-${String(1 + (k % 12)).padStart(2, '0')}-${String(1 + Math.floor(k / 12)).padStart(2, '0')}`, [k]);
  assert.equal(marksOf('2026-11-26'), null, 'the oldest goes first');
  assert.deepEqual(marksOf('2027-01-01'), [0]);
  kept.set('leaveline.days', '{');
  assert.equal(marksOf('2027-01-01'), null, 'what is spoilt is nothing');
  assert.equal(dayOf(idOfDay('2026-11-26')), '2026-11-26');
  assert.deepEqual([dayOf('own-1'), dayOf(null), marksOf(null)], [null, null, null]);
  delete globalThis.localStorage;
});

test('a set under way says what was played of it, and what that comes to so far', () => {
  const begun = (marks, isOver) => ({
    ...opened(EMPTY, 'x', { lent: { ...set('a', 'b', 'c'), pass: { mark: 50, need: 2 } } }), taking: { id: 'x', marks },
    tally: { score: 6, played: 1, nPassed: 0, need: 2, passed: [false, null, null], isPassed: false, isOver, words: 'All of it.', against: null },
  });
  assert.equal(cells(begun([null, null, null], false)).best, 'not taken yet');
  assert.equal(hint(begun([null, null, null], false)), 'All of it.');
  assert.equal(cells(begun([19.2, null, null], false)).best, '1 of 3 played');
  assert.equal(hint(begun([19.2, null, null], false)), 'So far 19 of 100 in 1 of 3: 0 passed, 2 to pass.');
  assert.equal(hint(begun([19.2, true, null], false)), 'So far 60 of 100 in 2 of 3: 0 passed, 2 to pass.');
  assert.equal(hint(begun([19.2, true, false], true)), 'All of it.');
});
