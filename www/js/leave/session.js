// How Leave deals, opens, aims, keeps and grades.

import { MOST_POINTS } from '../../pkg/first.js';
import { callOf, redone, undone } from '../path/state.js';
import { createRound, reread } from '../round/session.js';
import { createStore } from '../store.js';
import { createStrokes } from '../stroke/trial.js';
import { asked, opened } from './state.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { HandInfo, LeaveItem, LogRecord, PocketName, Struck, Zone } from '../engine/protocol.js' */
/** @import { Kept, WholeAround } from '../round/session.js' */
/** @import { Answer, Model, State } from './state.js' */

/** @typedef {Kept & { zone: Zone | null, stroke: Struck, pocket: PocketName | null, hand: string, exact: boolean, seed: number }} Entry */

/** @param {any} of @param {string[]} names */
const areNumbers = (of, names) => names.every((name) => Number.isFinite(of?.[name]));

/** @param {any} entry */
const isEntry = ({ item, zone, stroke, points, hand, seed }) =>
  typeof item === 'object' &&
  (zone === null || areNumbers(zone, ['x', 'y', 'long', 'wide', 'turn'])) &&
  areNumbers(stroke, ['azimuth', 'elevation', 'speed', 'side', 'height']) &&
  Array.isArray(points) && points.length <= MOST_POINTS &&
  typeof hand === 'string' && Number.isInteger(seed);

/** What Leave keeps on the device. @type {ReturnType<typeof createStore<Entry>>} */
const store = createStore('leave', isEntry);

/** Makes a call of the Log what was kept of its item. @param {Extract<LogRecord, { item: LeaveItem }>} record @param {Engine} engine */
export async function putBack({ item, call }, engine) {
  const link = await engine.ask('makeLink', { item });
  const { zone, stroke, hand, seed } = call;
  const points = call.call ? [...call.call.points, call.call.stop] : [];
  const play = { pocket: item.demand.pocket ?? null, hand, exact: seed == null, seed: seed ?? 0 };
  store.write({ link, item, points, sealed: null, played: true, zone, stroke, ...play }, item.level);
  return link;
}

/** An item with another stroke and pocket. @param {LeaveItem} item @param {Struck} stroke @param {PocketName | null} pocket @returns {LeaveItem} */
const withStroke = (item, stroke, pocket) => ({ ...item, shot: { ...item.shot, stroke }, demand: { ...item.demand, pocket } });

/** What is answered, as the core takes it. @param {State} state */
function answerOf({ zone, stroke, points }) {
  if (!zone || !stroke) return null;
  return points.length > 0 ? { zone, stroke, call: callOf(points) } : { zone, stroke };
}

/** @param {Model} model @param {WholeAround} around */
export function createSession(model, around) {
  const { engine } = around;
  /** @type {HandInfo[]} */
  let hands = [];

  const strokes = createStrokes(model, around, {
    itemOf: ({ question }, stroke, pocket) => question && withStroke(question.item, stroke, pocket),
    isSame: (state, before) => state.question === before.question,
  });

  const round = createRound(model, around, {
    name: 'leave',
    store,
    learn: async () => (hands = await engine.ask('hands')),
    deal: (wish) => engine.ask('dealLeave', wish),
    show: (item) => engine.ask('openLeave', { item }),
    link(item, withAnswer) {
      const answer = withAnswer ? answerOf(model.state) : null;
      return engine.ask('makeLink', answer ? { item, answer } : { item });
    },
    async prepare(question, sealed, entry) {
      const { item } = question;
      const pocket = entry?.pocket ?? item.demand.pocket ?? null;
      const trial = await engine.ask('trial', { item: withStroke(item, entry?.stroke ?? item.shot.stroke, pocket), aim: entry === null });
      const seed = entry?.seed ?? (await engine.ask('freshSeed'));
      const points = await reread(around, item, entry?.points ?? []);
      await strokes.measure(item);
      /** @type {Answer} */
      const answer = {
        // Where a zone is asked for, it is marked to begin with.
        zone: entry ? entry.zone : (item.demand.zone ?? null),
        stroke: trial.item.shot.stroke,
        pocket: pocket ?? trial.pocket,
        points,
        hand: hands.some(({ id }) => id === entry?.hand) && entry ? entry.hand : question.hand,
        exact: entry?.exact ?? model.state.exact,
        seed,
      };
      return (/** @type {State} */ state) => opened(state, question, trial, answer, sealed);
    },
    settled: strokes.settled,
    asked,
    answer(state) {
      const { hand, exact, seed } = state;
      const answer = answerOf(state);
      return answer && { ...answer, hand, exact, ...(exact ? {} : { seed, index: 0 }) };
    },
    grade: (request) => engine.ask('gradeLeave', request),
    mark: ({ result }) => result?.zone.mark ?? null,
    called: ({ exact, ...call }) => call,
    keeps: ['zone', 'stroke', 'hand', 'exact'],
    kept: ({ zone, stroke, pocket, hand, exact, seed }) => stroke && { zone, stroke, pocket, hand, exact, seed },
  });

  return {
    ...round,
    undo: () => model.change(undone),
    redo: () => model.change(redone),
    hands: () => hands,
    preview: strokes.preview,
    commit: strokes.commit,
  };
}

/** @typedef {ReturnType<typeof createSession>} Session */
