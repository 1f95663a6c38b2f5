// Clear's state, transition by transition, and its guide over workers that the test plays.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { chunks, createGuide, stands } from '../../www/js/clear/guide.js';
import { isEntryOf, shotAsLeave, store } from '../../www/js/clear/session.js';
import * as s from '../../www/js/clear/state.js';
import { chanceInWords, hint, nextOf, planInWords, planLines, runLines, wayLines, waysOf } from '../../www/js/clear/words.js';
import { set } from '../../www/js/state.js';

const stroke = { azimuth: 10, elevation: 2, speed: 1, side: 0, height: 0 };
const ball = (id, x = 1) => ({ id, x, y: 0.5 });
const item = (game, ids) => ({ version: 1, kind: 'clear', model: 1, level: 2, shot: { version: 1, table: {}, balls: ids.map((id, k) => ball(id, k)), stroke }, game });
const question = (game, left, open, others = []) => ({ item: item(game, ['cue', ...left, ...others]), left, open, balls: [], task: 'Clear them.', table: {} });
const GROUP = { kind: 'group', group: ['1', '2', '3'], last: '8' };
const group = (left = ['1', '2', '3', '8'], open = ['1', '2', '3']) => question(GROUP, left, open, ['9']);
const rotation = (left = ['1', '2', '3']) => question({ kind: 'rotation' }, left, left.slice(0, 1));
const begin = (now) => s.opened(s.EMPTY, now, { now, shots: [], hand: 'makes-85', exact: false, seed: 7, tries: 0 });
const trial = { item: { shot: { stroke } } };
const aimed = (state) => ({ ...state, trial, pocket: 'foot-left' });
const played = (more) => ({ duration: 3, tracks: [], stroke, stop: {}, over: null, cleared: false, next: null, words: 'Potted.', held: null, ...more });
/** The state after a shot, as its result comes and its balls come to rest. */
const after = (state, result) => s.landed({ ...s.asked(state), phase: 'played', result, clock: result.duration });

test('balls are tapped into an order; the last ball comes last, and what is in the way has no place', () => {
  let state = begin(group());
  assert.equal(s.ballOn(state), null);
  for (const id of ['9', '8', 'cue']) assert.equal(s.tapped(state, id), state, id);
  state = s.tapped(s.tapped(state, '3'), '1');
  assert.deepEqual(state.order, ['3', '1']);
  state = s.tapped(state, '2');
  assert.deepEqual(state.order, ['3', '1', '2', '8'], 'what remains goes to the end by itself');
  state = s.tapped(state, '1');
  assert.deepEqual(state.order, ['3', '2'], 'a second tap takes a ball out, and the last one with it');
  assert.deepEqual(begin(rotation()).order, ['1', '2', '3'], 'in rotation the order is given');
  assert.equal(s.tapped(begin(rotation()), '2').order[0], '1');
});

test('with another ball to play nothing of the shot stays but tip and speed', () => {
  const zone = { x: 1, y: 0.5, long: 0.4, wide: 0.2, turn: 0 };
  const state = { ...aimed(s.tapped(begin(group()), '1')), zone };
  const later = s.tapped(state, '2');
  assert.deepEqual([later.pocket, later.zone], ['foot-left', zone], 'a later ball changes nothing of it');
  const other = s.tapped(later, '1');
  assert.deepEqual([other.order, other.pocket, other.zone, other.stroke], [['2'], null, null, stroke]);
});

test('nothing is played before ball and pocket are called, and a double press asks once', () => {
  const state = s.tapped(begin(group()), '2');
  assert.equal(s.asked(state), state);
  const asking = s.asked(aimed(state));
  assert.equal(asking.phase, 'asking');
  assert.equal(s.asked(asking), asking);
});

test('the run goes on from what is left, and ends', () => {
  const first = aimed(begin(rotation()));
  const next = rotation(['2', '3']);
  const state = after({ ...first, plan: { shots: [{ chance: 0.6 }] }, fine: true }, played({ next }));
  assert.deepEqual([state.phase, state.now, state.order, state.tries, state.pocket, state.plan], ['drawing', next, ['2', '3'], 1, null, null]);
  const [shot] = state.shots;
  assert.deepEqual([shot.called, shot.best, shot.own, shot.after, shot.fine, shot.index], [{ ball: '1', pocket: 'foot-left' }, 0.6, null, null, true, 0]);
  const known = s.planned(state, { shots: [{ chance: 0.7 }], others: [], chance: 0.7 }, true);
  assert.equal(known.shots[0].after, 0.7, 'what is left now is what was left after it');
  const missed = after(aimed(known), played({ over: 'missed', words: 'Missed.' }));
  assert.deepEqual([missed.phase, s.isOver(missed), missed.shots[1].after, missed.now], ['played', true, 0, next]);
  assert.equal(s.landed(missed), missed, 'it ends once');
  assert.equal(after(aimed(known), played({ over: 'cleared', cleared: true })).shots[1].after, 1);
});

test('shots are taken back one by one, and a layout is begun again', () => {
  const start = aimed(begin(rotation()));
  const one = after(start, played({ next: rotation(['2', '3']) }));
  const two = after(aimed(one), played({ over: 'scratched' }));
  const back = s.takenBack(two, one.now);
  assert.deepEqual([back.phase, back.shots.length, back.order, back.pocket, back.tries], ['drawing', 1, ['2', '3'], 'foot-left', 2]);
  assert.equal(s.takenBack(s.takenBack(back, start.now), start.now).shots.length, 0);
  const again = s.restarted(two);
  assert.deepEqual([again.phase, again.shots, again.now, again.order], ['drawing', [], start.question, ['1', '2', '3']]);
  assert.equal(s.restarted(start), start, 'there is nothing to begin again');
});

test('a shot seen again changes nothing of the run', () => {
  const one = after(aimed(begin(rotation())), played({ next: rotation(['2', '3']) }));
  const seen = s.replayed(one, played({}), [], false);
  assert.deepEqual([seen.phase, seen.again], ['playing', true]);
  const done = s.landed({ ...seen, phase: 'played' });
  assert.deepEqual([done.phase, done.shots, done.now, done.again], ['drawing', one.shots, one.now, false]);
  assert.equal(s.replayed(begin(rotation()), played({}), [], false).phase, 'drawing');
});

test('a way on is taken over: its ball comes first, with its pocket, stroke and zone', () => {
  const zone = { x: 1, y: 0.5, long: 0.4, wide: 0.2, turn: 0 };
  const plan = { shots: [{ ball: '2', pocket: 'side-left', stroke, zone, chance: 0.5, lengths: 1, words: '' }, {}], others: [{ ball: '1', pocket: 'foot-left', stroke, chance: 0.4, lengths: 1, words: '' }], chance: 0.5 };
  const state = s.turned(s.planned(s.tapped(begin(group()), '3'), plan, true), 'now');
  assert.deepEqual(waysOf(state).map(({ ball: id }) => id), ['2', '1'], 'the first of the plan, then the others');
  assert.deepEqual(wayLines(state).map(({ text }) => text), ['50 %', '40 %']);
  const taken = s.taken(state, waysOf(state)[0]);
  assert.deepEqual([taken.order, taken.pocket, taken.zone, taken.panel], [['2', '3'], 'side-left', zone, 'shot']);
  assert.equal(s.turned(s.turned(state, 'now'), 'now').panel, 'now', 'a second press goes back');
  const shown = s.turned(state, 'plan');
  assert.equal(s.tapped(shown, '1'), shown, 'while the plan is on the table a tap changes nothing under it');
  assert.deepEqual(s.tapped(s.turned(shown, 'plan'), '1').order, ['3', '1']);
  assert.deepEqual(nextOf(shown), [plan.shots[0]], 'of the plan its first shot can be taken over, too');
  assert.deepEqual(s.taken(shown, nextOf(shown)[0]), taken);
});

test('the plan says how it strikes, and that its first shot is taken over by a tap', () => {
  const pot = { share: 0.8 };
  const low = { ball: '1', pocket: 'foot-left', words: 'The 1 in the foot-left pocket', stroke: { ...stroke, height: -0.25, side: 0.125 }, chance: 0.5, lengths: 1.5, pot };
  const far = { ...low, ball: '2', words: 'The 2 in the side-left pocket', stroke: { ...stroke, height: 0.4375, side: -0.5 } };
  const plain = { ...low, stroke };
  const state = s.turned(s.planned(begin(rotation()), { shots: [low, far, plain], others: [], chance: 0.5 }, true), 'plan');
  const first = 'Tap shot 1 to take it over: the 1 in the foot-left pocket, 1 tip low, ½ tip right, 1.5 lengths. The pot alone: 80 %.';
  assert.equal(hint(state), first);
  assert.equal(hint(set(state, { line: 'step-0' })), first);
  assert.equal(hint(set(state, { line: 'step-1' })), 'The 2 in the side-left pocket, 1¾ tips high, 2 tips left, 1.5 lengths. The pot alone: 80 %.');
  assert.match(planLines(state)[2].spoken, /50 per cent, centre ball, 1\.5 lengths$/);
});

test('the shot at hand is an item of Leave', () => {
  const state = s.tapped(s.tapped(begin(group()), '3'), '1');
  const leave = shotAsLeave(state, stroke, 'foot-left');
  assert.deepEqual([leave.kind, leave.demand], ['leave', { on: '3', pocket: 'foot-left', next: '1' }]);
  assert.equal(shotAsLeave(begin(group()), stroke, null), null, 'no ball is called yet');
});

test('another hand knows nothing of the plan before', () => {
  const state = s.planned(begin(rotation()), { shots: [], others: [], chance: 0.3 }, true);
  const other = s.handed(state, 'makes-60');
  assert.deepEqual([other.hand, other.plan, other.fine], ['makes-60', null, false]);
});

test('lines of the run say what is known and what is not', () => {
  const shots = [{ called: { ball: '1', pocket: 'foot-left' }, best: 0.61, own: 0.584, after: 0.4, over: null, words: 'Potted.', held: true }, { called: { ball: '2', pocket: 'side-right' }, best: 0.4, own: null, after: 0, over: 'missed', words: 'Missed.', held: null }];
  const lines = runLines({ ...begin(rotation()), shots });
  assert.deepEqual(lines.map(({ text }) => text), ['61 / 58 / 40', '40 / … / over']);
  assert.match(lines[0].label, /✓$/);
});

test('what a plan is thought to be worth is a first guess until it is played out', () => {
  const step = { ball: '1', pocket: 'foot-left', stroke, chance: 0.71, lengths: 1.5, words: 'The 1 in the foot-left pocket', seconds: [], breaks: 'Breaks out the 5 and the 6; the 3 is the insurance.' };
  const state = s.planned(begin(rotation()), { shots: [step], others: [], chance: 0.71, key: null }, true);
  assert.deepEqual(chanceInWords(state), ['71', '% to clear, a first guess']);
  assert.equal(planInWords(state), 'Playing it out…');
  assert.match(planLines(state)[0].spoken, /Breaks out the 5 and the 6; the 3 is the insurance\.$/);
  const runs = { runs: 64, cleared: 40, chance: { share: 0.625, low: 0.5025, high: 0.733 }, words: '' };
  const so = 'Cleared 40 of 64 runs: 50 to 73 %.';
  const shown = set(state, { runs });
  assert.deepEqual(chanceInWords(shown), ['50', '% to clear at least'], 'then the low end of its interval');
  assert.equal(planInWords(shown), so);
  const plan = { shots: [{ ...step, chance: 0.69 }], others: [], chance: 0.69, key: null };
  const raced = s.raced({ ...shown, own: 0.4 }, plan, { taken: 2, words: 'Of 7 ways to play it cleared most.' });
  assert.deepEqual([raced.way, raced.plan, raced.own, raced.runs], [2, plan, 0.4, null], 'the plan is by the way that won');
  assert.equal(planInWords({ ...raced, runs }), `${so} Of 7 ways to play it cleared most.`);
  assert.equal(s.raced(shown, plan, { taken: 1, words: 'It takes the likeliest pot.' }).race, null, 'that no way was surely better is not told');
  assert.deepEqual([s.planned(raced, plan, true).way, s.handed(raced, 'makes-60').way], [null, null], 'of another plan nothing is known');
});

test('what was kept is read again, and what is broken is left out', () => {
  const map = new Map();
  const kept = { getItem: (key) => map.get(key) ?? null, setItem: (key, text) => map.set(key, text) };
  const entry = { link: 'clear=1', item: {}, now: {}, points: [], sealed: null, played: false, shots: [], order: [], pocket: null, zone: null, hand: 'a', exact: false, seed: 1, tries: 0, wish: { game: 'rotation', balls: 4, demands: false } };
  assert.ok(store.write(entry, 2, kept));
  assert.deepEqual(store.find('clear=1', kept), entry);
  assert.ok(isEntryOf(entry));
  for (const broken of [{ shots: [{}] }, { wish: { game: 'chess', balls: 4, demands: false } }, { now: 3 }, { seed: 'x' }]) assert.ok(!isEntryOf({ ...entry, ...broken }), JSON.stringify(broken));
});

test('a guide stands while only the cue ball has moved', () => {
  const { item: dealt } = rotation();
  const moved = (id, x) => ({ ...dealt, shot: { ...dealt.shot, balls: dealt.shot.balls.map((one) => (one.id === id ? { ...one, x } : one)) } });
  assert.ok(stands(dealt, moved('cue', 2)));
  assert.ok(stands(dealt, { ...dealt, shot: { ...dealt.shot, balls: dealt.shot.balls.filter(({ id }) => id !== '1') } }), 'also when a ball is gone');
  assert.ok(!stands(dealt, moved('2', 2.2)));
});

/** A worker of the guide: it answers at once, and the test reads what it was asked. */
function worker(shelves) {
  const asked = [];
  return {
    asked,
    run: async (job, { request: { ask }, bytes }, told, signal) => {
      if (signal.aborted) throw new Error('given up');
      asked.push({ ...ask, ...(bytes ? { took: bytes } : {}) });
      const runs = ask.kind === 'runs' ? { runs: ask.to - ask.from, cleared: 1 } : null;
      if (ask.kind === 'lap') return { done: 1, bytes: Uint8Array.from({ length: ask.to - ask.from }, (_, k) => ask.from + k) };
      if (ask.kind === 'race' || ask.kind === 'pass') {
        const at = bytes ? bytes.length + asked.filter(({ kind }) => kind === 'pass').slice(0, -1).reduce((sum, { took }) => sum + took.length, 0) : 0;
        return { done: 1, race: { ways: [0, 2], from: at, to: at === 0 ? 20 : 50, over: at === 50, taken: 2, words: 'So it is.' } };
      }
      return { done: 1, shelves, first: shelves / 2, cells: 8, bytes: ask.kind === 'fill' ? `${ask.from}-${ask.to}` : '', runs, plan: null, chance: null };
    },
  };
}

test('shelves are filled once by some worker, and taken by all others', async () => {
  assert.deepEqual(chunks(0, 130, 64), [[0, 64], [64, 128], [128, 130]]);
  const workers = [worker(200), worker(200)];
  const guide = createGuide(workers);
  const base = { item: rotation().item, hand: 'makes-85', fine: false };
  const parts = [];
  assert.ok(!guide.knows(base));
  await guide.fill(base, new AbortController().signal, (part) => parts.push(part));
  assert.ok(guide.knows(base) && !guide.knows({ ...base, fine: true }));
  const filled = workers.map(({ asked }) => asked.filter(({ kind, to }) => kind === 'fill' && to > 0).map(({ from, to }) => `${from}-${to}`));
  const took = workers.map(({ asked }) => asked.filter(({ kind }) => kind === 'take').map(({ took: bytes }) => bytes));
  assert.deepEqual(filled.flat().sort(), ['0-64', '64-100'], 'as far as a first plan needs them');
  assert.deepEqual(took.map((all) => [...all].sort()), [[...filled[1]].sort(), [...filled[0]].sort()]);
  assert.deepEqual(parts, [0.64, 1]);
  const before = workers[0].asked.length;
  await guide.fill(base, new AbortController().signal, () => {});
  assert.equal(workers[0].asked.length, before, 'what is known is not filled again');
  await guide.fill({ ...base, fine: true }, new AbortController().signal, () => {});
  const further = workers.flatMap(({ asked }) => asked.filter(({ kind, from }) => kind === 'fill' && from >= 100).map(({ from, to }) => `${from}-${to}`));
  assert.deepEqual(further.sort(), ['100-164', '164-200'], 'a first guide is filled further');
  assert.ok(guide.knows({ ...base, fine: true }) && workers.some(({ asked }) => asked.some(({ kind }) => kind === 'try')), 'and tried out');
  const sums = [];
  await guide.runs(base, { now: base.item, seed: 1, n: 96, way: 2 }, new AbortController().signal, (sum) => sums.push(sum));
  assert.deepEqual(sums.at(-1), { runs: 96, cleared: 3 });
  assert.ok(workers.flatMap(({ asked }) => asked).every(({ kind, way }) => kind !== 'runs' || way === 2), 'by the way that the plan has taken');
});

test('a race is the same over any number of workers: laps are handed on in the order of their runs', async () => {
  for (const n of [1, 2, 3]) {
    const workers = Array.from({ length: n }, () => worker(200));
    const base = { item: rotation().item, hand: 'makes-85', fine: true };
    const race = await createGuide(workers).race(base, base.item, new AbortController().signal);
    assert.deepEqual([race.over, race.taken], [true, 2]);
    const passed = workers.flatMap(({ asked }) => asked.filter(({ kind }) => kind === 'pass').map(({ took }) => [...took]));
    assert.deepEqual(passed, [[0, 20], [20, 50]].map(([from, to]) => Array.from({ length: to - from }, (_, k) => from + k)), `${n} workers`);
    assert.ok(workers.every(({ asked }) => asked.some(({ kind }) => kind === 'lap')), 'all of them play');
  }
});

test('a guide that is given up half-way is not taken for known', async () => {
  const stop = new AbortController();
  const workers = [worker(200), worker(200)];
  const guide = createGuide(workers);
  const base = { item: rotation().item, hand: 'makes-85', fine: false };
  await assert.rejects(guide.fill(base, stop.signal, () => stop.abort()));
  assert.ok(!guide.knows(base));
  const asked = workers.map((one) => one.asked.length);
  await assert.rejects(guide.ask(base, { kind: 'plan', now: base.item }, stop.signal));
  assert.deepEqual(workers.map((one) => one.asked.length), asked, 'nothing more is asked');
});
