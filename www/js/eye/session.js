// How Eye deals, judges, sums up and keeps a round.

import { latest } from '../newest-request.js';
import { sentenceFor } from '../sentences.js';
import { NOT_KEPT, createStore } from '../store.js';
import { answered, answering, asked, begun, letGo, moved, reshown, returned, stuck, summed } from './state.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { EyeItem, EyeQuestion, LogRecord, Place } from '../engine/protocol.js' */
/** @import { Show } from '../links.js' */
/** @import { Log } from '../log/hook.js' */
/** @import { Answer, Model, State } from './state.js' */

/** The round that was open last. @typedef {{ link: string, seed: number, size: string, answers: Answer[] }} Kept */

/** @param {any} one */
const isAnswer = (one) => typeof one?.estimate === 'string' && Number.isFinite(one.error) && Number.isFinite(one.mark);
/** @param {any} entry */
const isEntry = (entry) => Number.isInteger(entry.seed) && typeof entry.size === 'string' && Array.isArray(entry.answers) && entry.answers.every(isAnswer);

/** @type {ReturnType<typeof createStore<Kept>>} */
const store = createStore('eye', isEntry);

/** An estimate that the Log shows again, under the address of this part. @typedef {{ link: string, item: EyeItem, answer: number }} Again */

/** @type {ReturnType<typeof createStore<Again>>} */
const shownAgain = createStore('eye-again', (one) => typeof one.item === 'object' && Number.isFinite(one.answer));
const AGAIN = 'eye=kept';

/** Keeps an estimate of the Log to be shown again, and gives the link that does it. @param {Extract<LogRecord, { item: EyeItem }>} record */
export async function putBack({ item, call: { answer } }) {
  shownAgain.write({ link: AGAIN, item, answer }, 1);
  return AGAIN;
}

/** @param {Model} model @param {{ engine: Engine, say(sentence: string): void, show: Show, log: Pick<Log, 'keep'> }} around */
export function createSession(model, { engine, say, show, log }) {
  let begunOnce = false;
  let warned = false;
  /** Counts what was asked for, so that a late reply does not replace a later wish. */
  let turn = 0;

  /** @param {unknown} error */
  function fail(error) {
    model.change(stuck);
    say(sentenceFor(error));
  }

  /** @param {Pick<State, 'seed' | 'size'>} round @param {number} number @returns {Promise<EyeQuestion>} */
  const dealt = ({ seed, size }, number) => engine.ask('dealEye', { seed, number, size: /** @type {EyeItem['shot']['table']['size']} */ (size) });

  /** Shows the estimate with this number, or the summary when all are answered, as a question of the round tells. @param {number} number */
  async function ask(number, question = model.state.question) {
    const mine = ++turn;
    const { answers } = model.state;
    try {
      if (question && number >= question.round) {
        const summary = await engine.ask('sumEye', { answers: answers.map(({ estimate, error }) => ({ estimate, error })) });
        if (mine === turn) model.change(summed, summary);
        return;
      }
      const next = await dealt(model.state, number);
      if (mine === turn) model.change(asked, number, next);
    } catch (error) {
      if (mine === turn) fail(error);
    }
  }

  async function deal(size = model.state.size) {
    try {
      const seed = await engine.ask('freshSeed');
      model.change(begun, { seed, size });
      await ask(0);
    } catch (error) {
      fail(error);
    }
  }

  /** Goes on with the round that was kept. @param {Kept} kept */
  async function restore(kept) {
    model.change(begun, kept);
    const next = kept.answers.length;
    if (next === 0) return ask(0);
    const mine = ++turn;
    try {
      const question = await dealt(kept, next - 1);
      if (mine !== turn) return;
      // Below the summary the last one stays.
      if (next >= question.round) model.change(asked, next - 1, question);
      await ask(next, question);
    } catch (error) {
      if (mine === turn) fail(error);
    }
  }

  /** Goes on with what was open last, else deals. */
  async function resume() {
    const { kept, broken } = store.read();
    if (broken) say('Some of what this browser had kept cannot be read and was left out.');
    const last = kept.entries.at(-1);
    await (last ? restore(last) : deal());
  }

  /** Shows an estimate of the Log again. @param {Again} one */
  async function reshow({ item, answer }) {
    const mine = ++turn;
    try {
      const asking = /** @type {const} */ ([engine.ask('openEye', { item }), engine.ask('markEye', { item, value: answer }), engine.ask('gradeEye', { item, answer })]);
      const [question, handle, result] = await Promise.all(asking);
      if (mine === turn) model.change(reshown, question, handle, result);
    } catch (error) {
      if (mine !== turn) return;
      say(sentenceFor(error));
      await resume();
    }
  }

  /** @param {{ place: Place } | { value: number, steps: number, fine: boolean }} to */
  async function put(to) {
    const { question } = model.state;
    if (!question) return;
    try {
      const at = 'place' in to ? { x: to.place.x, y: to.place.y } : to;
      const handle = await engine.ask('markEye', { item: question.item, ...at });
      if (model.state.question === question) model.change(moved, handle);
    } catch (error) {
      say(sentenceFor(error));
    }
  }
  const puts = latest(put);

  function keep() {
    const { seed, size, answers } = model.state;
    if (store.write({ link: 'eye', seed, size, answers: [...answers] }, 1) || warned) return;
    warned = true;
    say(NOT_KEPT);
  }
  model.onChange((state, before) => {
    if (state.seed !== before.seed || state.answers !== before.answers) keep();
  });

  return {
    deal,

    /** Shows what the address names again, else goes on with the round that is or was open, or deals one. @param {string} link */
    async open(link) {
      const again = link ? shownAgain.find(link) : null;
      if (again) return reshow(again);
      show('eye', 'replace');
      if (begunOnce && !model.state.again) return;
      begunOnce = true;
      await resume();
    },

    /** Moves the handle to a place on the table, m. @param {Place} place */
    drag: (place) => puts.push({ place }),

    /** Steps the handle. @param {number} steps @param {boolean} fine */
    step(steps, fine) {
      const { question, handle, phase } = model.state;
      if (!question || !handle || phase !== 'drawing') return;
      puts.push({ value: handle.value, steps, fine });
    },

    /** Where the handle was goes for nothing. */
    giveUp() {
      puts.clear();
      model.change(letGo);
    },

    async answer() {
      await puts.settled();
      model.change(answering);
      const { question, handle, phase } = model.state;
      if (phase !== 'asking' || !question || !handle) return;
      try {
        const result = await engine.ask('gradeEye', { item: question.item, answer: handle.value });
        log.keep(question.item, { answer: result.answer });
        if (model.state.question === question) model.change(answered, result);
      } catch (error) {
        model.change(returned);
        say(sentenceFor(error));
      }
    },

    /** The next estimate, or back to the round. */
    next() {
      if (!model.state.again) return ask(model.state.number + 1);
      show('eye', 'push');
      begunOnce = true;
      return resume();
    },
  };
}
