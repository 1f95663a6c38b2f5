// Leave's state, transition by transition, without a browser.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { back, forth, stepped } from '../../www/js/state.js';
import * as own from '../../www/js/leave/state.js';
import { placed, redone, undone } from '../../www/js/path/state.js';
import * as round from '../../www/js/round/state.js';
import * as striking from '../../www/js/stroke/state.js';

const s = { ...round, ...striking, ...own };
const question = { item: { name: 'a' } };
const stroke = (speed) => ({ azimuth: 10, elevation: 2, speed, side: 0, height: 0 });
const trial = (speed) => ({ item: { shot: { stroke: stroke(speed) } } });
const answer = { zone: null, stroke: stroke(1), pocket: 'foot-left', points: [], hand: 'makes-60', exact: true, seed: 7 };
const ZONE = { x: 1, y: 0.5, long: 0.4, wide: 0.2, turn: 0 };
const dealt = () => s.opened(s.EMPTY, question, trial(1), answer, null);
const marked = () => s.zoneSet(dealt(), ZONE);

test('a step keeps what it replaced, and nothing else', () => {
  const start = { a: 1, b: 2, past: [], future: [] };
  const later = stepped(stepped(start, { a: 3 }), { b: 4 });
  assert.deepEqual([back(later).a, back(later).b], [3, 2]);
  const first = back(back(later));
  assert.deepEqual([first.a, first.b], [1, 2]);
  assert.equal(back(first), first, 'there is nothing before the first');
  const again = forth(forth(first));
  assert.deepEqual([again.a, again.b], [3, 4]);
  assert.equal(forth(again), again);
  assert.deepEqual(stepped(first, { a: 9 }).future, [], 'a new step leaves nothing to do again');
});

test('zone, stroke and path are taken back one after another', () => {
  let state = s.struck(marked(), trial(2), 'side-left');
  state = placed(state, { x: 1, y: 1, words: 'a stop' }, 0);
  assert.deepEqual([state.zone, state.stroke.speed, state.pocket, state.points.length], [ZONE, 2, 'side-left', 1]);
  state = undone(state);
  assert.equal(state.points.length, 0);
  state = undone(state);
  assert.deepEqual([state.stroke.speed, state.pocket], [1, 'foot-left']);
  state = undone(state);
  assert.equal(state.zone, null);
  assert.equal(undone(state), state);
  state = redone(redone(state));
  assert.deepEqual([state.zone, state.stroke.speed], [ZONE, 2]);
});

test('a zone that is dragged is shown, and stands when it is let go', () => {
  const bigger = { ...ZONE, long: 0.9 };
  const dragged = s.zoneDrafted(marked(), bigger);
  assert.deepEqual(s.shownZone(dragged), bigger);
  assert.deepEqual(dragged.zone, ZONE);
  assert.deepEqual(s.zoneSet(dragged, bigger).zone, bigger);
  assert.deepEqual(s.shownZone(s.zoneDrafted(dragged, null)), ZONE);
});

test('no zone, no play; a double press asks once', () => {
  assert.equal(s.asked(dealt()).phase, 'drawing');
  assert.ok(s.isBlank(dealt()));
  const asking = s.asked(marked());
  assert.equal(asking.phase, 'asking');
  assert.equal(s.asked(asking), asking);
  assert.equal(s.struck(asking, trial(3), null), asking, 'what was asked does not change any more');
  assert.deepEqual(s.zoneSet(asking, null).zone, ZONE);
  assert.equal(s.refused(asking).phase, 'drawing');
});

test('an answer plays, or is shown at once where motion is avoided', () => {
  const result = { duration: 4 };
  const playing = s.answered(s.asked(marked()), result, false);
  assert.deepEqual([playing.phase, playing.clock, playing.practised], ['playing', 0, true]);
  const still = s.answered(s.asked(marked()), result, true);
  assert.deepEqual([still.phase, still.clock], ['played', 4]);
  assert.equal(s.answered(dealt(), result, true).phase, 'drawing', 'a late reply changes nothing');
});

test('the next item keeps how the player works, and nothing of the item before', () => {
  const before = { ...s.asked(marked()), snap: false, rate: 4 };
  const next = s.opened(before, question, trial(1), answer, 'sealed');
  assert.deepEqual([next.phase, next.zone, next.snap, next.rate, next.sealed, next.past.length], ['drawing', null, false, 4, 'sealed', 0]);
  assert.equal(s.turned(next, 'zone'), next);
  assert.equal(s.turned(next, 'path').mode, 'path');
});
