// The page's state, transition by transition, without a browser.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { MOST_POINTS } from '../../www/pkg/first.js';
import * as path from '../../www/js/path/state.js';
import * as read from '../../www/js/read/state.js';
import * as replay from '../../www/js/replay.js';
import * as round from '../../www/js/round/state.js';

const s = { ...round, ...read, ...path, ...replay };

const question = (name = 'a') => ({ item: { name } });
const free = (x, y) => ({ x, y, words: `${x}, ${y}` });
const touch = (x, y, rail) => ({ x, y, rail, words: `${rail} rail` });
const A = touch(1.9, 0.03, 'right');
const B = touch(2.51, 0.5, 'foot');
const C = free(1.4, 0.8);
const drawn = (...points) => points.reduce((state, point, at) => s.placed(state, point, at), s.opened(s.EMPTY, question()));
const words = ({ points }) => points.map((point) => point.words);

test('points go on at the end, and none is placed before an item is open', () => {
  assert.deepEqual(words(drawn(A, B, C)), [A, B, C].map((point) => point.words));
  assert.equal(s.placed(s.EMPTY, A, 0), s.EMPTY);
  const state = drawn(A);
  assert.equal(s.placed(state, B, 5), state, 'there is no such place in the path');
});

test('a chosen point takes the next ones behind it, one after another', () => {
  let state = s.selected(drawn(A, C), 0);
  assert.equal(s.nextIndex(state), 1);
  state = s.placed(state, B, s.nextIndex(state));
  assert.deepEqual(state.points, [A, B, C]);
  assert.equal(s.nextIndex(state), 2, 'the path goes on behind the new point');
  assert.equal(s.nextIndex(s.selected(state, null)), 3);
});

test('going on at the end chooses nothing', () => {
  assert.equal(drawn(A, B).selected, null);
  const chosen = s.selected(drawn(A, B), 1);
  assert.equal(s.placed(chosen, C, s.nextIndex(chosen)).selected, null);
});

test('moving, removing, undoing and doing again', () => {
  const start = drawn(A, B, C);
  const moved = s.moved(start, free(1, 1), 2);
  assert.deepEqual(moved.points[2], free(1, 1));
  const removed = s.removed(moved, 0);
  assert.deepEqual(removed.points, [B, free(1, 1)]);
  const back = s.undone(s.undone(removed));
  assert.deepEqual(back.points, [A, B, C]);
  assert.deepEqual(s.redone(s.redone(back)).points, removed.points);
  const other = s.placed(back, C, 3);
  assert.equal(s.redone(other), other, 'a new change leaves nothing to do again');
});

test('undo goes back to the empty call and no further', () => {
  let state = drawn(A, B, C);
  for (let k = 0; k < 3; k++) state = s.undone(state);
  assert.deepEqual(state.points, []);
  assert.equal(s.undone(state), state);
});

test('a point put back where it was is no change', () => {
  const state = s.drafted(drawn(A, B), { kind: 'move', at: 1, point: { ...B }, grip: 'mouse' });
  const dropped = s.dropped(state);
  assert.equal(dropped.draft, null);
  assert.equal(dropped.past.length, 2);
});

test('a draft is shown but not kept until it is dropped', () => {
  const inserting = s.drafted(drawn(A, C), { kind: 'insert', at: 1, point: B, grip: 'touch' });
  assert.deepEqual(s.shownPoints(inserting), [A, B, C]);
  assert.deepEqual(inserting.points, [A, C]);
  assert.deepEqual(s.dropped(inserting).points, [A, B, C]);
  assert.deepEqual(s.drafted(inserting, null).points, [A, C]);
  const moving = s.drafted(drawn(A, C), { kind: 'move', at: 0, point: B, grip: 'mouse' });
  assert.deepEqual(s.shownPoints(moving), [B, C]);
  const hovering = s.drafted(drawn(A, C), { kind: 'insert', at: 2, point: B, grip: 'hover' });
  assert.deepEqual(s.shownPoints(hovering), [A, C], 'what only hovers is no part of the path');
});

test('a call has room for 32 points and the stop', () => {
  let state = drawn();
  for (let k = 0; k < 50; k++) state = s.placed(state, free(k, 0), state.points.length);
  assert.equal(state.points.length, MOST_POINTS);
  assert.ok(s.isFull(state));
  const call = s.callOf(state.points);
  assert.equal(call.points.length, 32);
});

test('the last point is the stop; on a rail it is a touch as well', () => {
  assert.deepEqual(s.callOf([A, C]), { points: [{ x: 1.9, y: 0.03, rail: 'right' }], stop: { x: 1.4, y: 0.8 } });
  const dead = s.callOf([A, B]);
  assert.deepEqual(dead.points.map(({ rail }) => rail), ['right', 'foot']);
  assert.deepEqual(dead.stop, { x: 2.51, y: 0.5 });
  assert.throws(() => s.callOf([]), /stop/);
});

test('a call is drawn from its points to its stop, each once', () => {
  for (const points of [[A, C], [A, B], [C], [A, B, C]]) {
    const path = s.pathOf(s.callOf(points));
    assert.deepEqual(path.map(({ x, y }) => [x, y]), points.map(({ x, y }) => [x, y]));
  }
});

test('a double press asks once, and only for a call', () => {
  assert.equal(s.asked(drawn()).phase, 'drawing');
  const asking = s.asked(drawn(A, C));
  assert.equal(asking.phase, 'asking');
  assert.equal(s.asked(asking), asking);
  assert.equal(s.placed(asking, B, 2), asking, 'what was asked does not change any more');
  assert.equal(s.undone(asking), asking);
  assert.equal(s.refused(asking).phase, 'drawing');
  assert.deepEqual(s.refused(asking).points, [A, C]);
});

test('the clock runs to the end of the shot and stops there', () => {
  const result = { duration: 4 };
  const playing = s.answered(s.asked(drawn(C)), result, false);
  assert.deepEqual([playing.phase, playing.clock], ['playing', 0]);
  const later = s.ticked(playing, 2);
  assert.deepEqual([later.phase, later.clock], ['playing', 2]);
  const over = s.ticked(later, 4.01);
  assert.deepEqual([over.phase, over.clock], ['played', 4]);
  assert.equal(s.ticked(over, 1), over);
  assert.deepEqual([s.rewound(over).phase, s.rewound(over).clock], ['playing', 0]);
  const still = s.answered(s.asked(drawn(C)), result, true);
  assert.deepEqual([still.phase, still.clock], ['played', 4]);
});

test('a late answer to a call that was given up changes nothing', () => {
  const fresh = s.opened(s.asked(drawn(C)), question('b'));
  assert.equal(s.answered(fresh, { duration: 1 }, true), fresh);
});

test('a long deal is said until it ends, well or badly', () => {
  const waiting = s.awaited(drawn(A));
  assert.deepEqual([waiting.dealing, waiting.points], [true, [A]]);
  assert.equal(s.opened(waiting, question('b')).dealing, false);
  const failed = s.stuck(waiting);
  assert.deepEqual([failed.dealing, failed.phase, failed.points], [false, 'drawing', [A]]);
  assert.equal(s.stuck(s.awaited(s.EMPTY)).phase, 'stuck');
});

test('who has played a call once is told no more where to start', () => {
  assert.equal(drawn(A).practised, false);
  const played = s.answered(s.asked(drawn(A)), { duration: 1 }, true);
  assert.equal(s.opened(played, question('b')).practised, true);
  assert.equal(s.opened(s.returned(s.EMPTY), question('b')).practised, true);
});

test('another item starts clean but keeps how the player works', () => {
  const state = s.opened({ ...drawn(A, B), snap: false, rate: 4, line: 'stop' }, question('b'), { sealed: 'x', points: [C] });
  assert.deepEqual([state.points, state.sealed, state.past, state.line], [[C], 'x', [], null]);
  assert.deepEqual([state.snap, state.rate], [false, 4]);
});
