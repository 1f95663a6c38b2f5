// How Leave deals, opens, aims, keeps and grades.

import { latest } from '../latest.js';
import { callOf, redone, undone } from '../path/state.js';
import { createRound, reread } from '../round/session.js';
import { sentenceFor } from '../sentences.js';
import { createStore } from '../store.js';
import { asked, opened, set, struck, tried } from './state.js';

/** @import { HandInfo, LeaveItem, PocketName, Struck, Zone } from '../engine/protocol.js' */
/** @import { Around, Kept } from '../round/session.js' */
/** @import { Answer, Model, State } from './state.js' */

/** @typedef {Kept & { zone: Zone | null, stroke: Struck, pocket: PocketName | null, hand: string, exact: boolean, seed: number }} Entry */

/** @param {any} of @param {string[]} names */
const areNumbers = (of, names) => names.every((name) => Number.isFinite(of?.[name]));

/** @param {any} entry */
const isEntry = ({ item, zone, stroke, points, hand, seed }) =>
  typeof item === 'object' &&
  (zone === null || areNumbers(zone, ['x', 'y', 'long', 'wide', 'turn'])) &&
  areNumbers(stroke, ['azimuth', 'elevation', 'speed', 'side', 'height']) &&
  Array.isArray(points) && points.length <= 33 &&
  typeof hand === 'string' && Number.isInteger(seed);

/** What Leave keeps on the device. @type {ReturnType<typeof createStore<Entry>>} */
const store = createStore('leave', isEntry);

/** An item with another stroke and pocket. @param {LeaveItem} item @param {Struck} stroke @param {PocketName | null} pocket @returns {LeaveItem} */
const withStroke = (item, stroke, pocket) => ({ ...item, shot: { ...item.shot, stroke }, demand: { ...item.demand, pocket } });

/** What is answered, as the core takes it. @param {State} state */
function answerOf({ zone, stroke, points }) {
  if (!zone || !stroke) return null;
  return points.length > 0 ? { zone, stroke, call: callOf(points) } : { zone, stroke };
}

/** @param {Model} model @param {Around} around */
export function createSession(model, around) {
  const { engine, say } = around;
  /** @type {HandInfo[]} */
  let hands = [];

  /** Learns how far the table's cloth lets each speed go. @param {LeaveItem} item */
  async function measure(item) {
    const { table } = item.shot;
    if (model.state.scale.length > 0 && JSON.stringify(model.state.question?.item.shot.table) === JSON.stringify(table)) return;
    const scale = await engine.ask('speedScale', { item });
    model.change(set, { scale });
  }

  /** Aims the stroke with a change, and shows it; `final` lets it stand. During a drag only the newest wish waits. */
  const strokes = latest(async (/** @type {{ change: Partial<Struck>, pocket: PocketName | null, final: boolean }} */ { change, pocket, final }) => {
    const { question, stroke } = model.state;
    if (!question || !stroke) return;
    try {
      // The core lifts the cue as far as it must, and no further.
      const item = withStroke(question.item, { ...stroke, ...change, elevation: 0 }, pocket);
      const trial = await engine.ask('trial', { item, aim: true });
      if (model.state.question !== question) return;
      if (final) model.change(struck, trial, pocket);
      else model.change(tried, trial);
    } catch (error) {
      if (final) say(sentenceFor(error));
    }
  });

  /** After a step back the stroke is shown as it was. */
  async function retry() {
    const { question, stroke, pocket } = model.state;
    if (!question || !stroke) return;
    const trial = await engine.ask('trial', { item: withStroke(question.item, stroke, pocket), aim: false });
    if (model.state.question === question && model.state.stroke === stroke) model.change(tried, trial);
  }

  model.onChange((state, before) => {
    if (state.stroke !== before.stroke && state.question === before.question && state.trial === before.trial) void retry();
  });

  const round = createRound(model, around, {
    name: 'leave',
    store,
    learn: async () => (hands = await engine.ask('hands')),
    deal: (wish) => engine.ask('dealLeave', wish),
    show: (item) => engine.ask('openLeave', { item }),
    link(item, withAnswer) {
      const answer = withAnswer ? answerOf(model.state) : null;
      return engine.ask('makeLeaveLink', answer ? { item, answer } : { item });
    },
    async prepare(question, sealed, entry) {
      const { item } = question;
      const pocket = entry?.pocket ?? item.demand.pocket ?? null;
      const trial = await engine.ask('trial', { item: withStroke(item, entry?.stroke ?? item.shot.stroke, pocket), aim: entry === null });
      const seed = entry?.seed ?? (await engine.ask('freshSeed'));
      const points = await reread(around, item, entry?.points ?? []);
      await measure(item);
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
    keeps: ['zone', 'stroke', 'hand', 'exact'],
    kept: ({ zone, stroke, pocket, hand, exact, seed }) => stroke && { zone, stroke, pocket, hand, exact, seed },
  });

  return {
    ...round,
    undo: () => model.change(undone),
    redo: () => model.change(redone),
    hands: () => hands,

    /** Shows a stroke while it is changed. @param {Partial<Struck>} change */
    preview: (change) => strokes.push({ change, pocket: model.state.pocket, final: false }),

    /** Lets a changed stroke stand, aimed at a pocket. @param {Partial<Struck>} change @param {PocketName | null} [pocket] */
    commit(change, pocket = model.state.pocket) {
      strokes.push({ change, pocket, final: true });
      return strokes.settled();
    },
  };
}

/** @typedef {ReturnType<typeof createSession>} Session */
