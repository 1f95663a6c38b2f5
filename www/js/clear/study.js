// What is found out beside the play: the plan for what is left, what the called shots were worth, and where the run was
// decided. All of it is given up as soon as something else is to be found out.

import { set } from '../state.js';
import { betterOf, isOver, isReady, planned, raced, told } from './state.js';
import { stands } from './guide.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { ClearItem } from '../engine/protocol.js' */
/** @import { Base, Guide } from './guide.js' */
/** @import { Model } from './state.js' */

/** Runs that confirm a plan (tuning choice: an interval of some 12 points at most). */
const RUNS = 256;

/** @param {Model} model @param {Engine} engine @param {Guide} guide @param {(error: unknown) => void} failed */
export function createStudy(model, engine, guide, failed) {
  let stop = new AbortController();
  let busy = false;
  /** The layout that the guide is to, kept while no object ball moves. @type {ClearItem | null} */
  let layout = null;
  /** @type {Promise<void>} */
  let last = Promise.resolve();

  /** The base of a guide in which `now` is a part of the layout. @param {ClearItem} now @param {string} hand @param {boolean} fine @returns {Base} */
  function baseFor(now, hand, fine) {
    const { question } = model.state;
    if (!layout || !stands(layout, now)) layout = question && stands(question.item, now) ? question.item : now;
    return { item: layout, hand, fine };
  }

  /** Weighs the shots that are not told yet, as far as the guide is known; where the run is over, by whatever it takes. @param {AbortSignal} signal */
  async function weigh(signal) {
    for (const [at, shot] of model.state.shots.entries()) {
      if (shot.own !== null) continue;
      const [fine, first] = [true, false].map((one) => baseFor(shot.item, shot.hand, one));
      const base = guide.knows(fine) ? fine : first;
      if (!guide.knows(base) && !isOver(model.state)) continue;
      await guide.fill(base, signal, () => {});
      const { chance } = await guide.ask(base, { kind: 'weigh', now: shot.item, called: shot.called }, signal);
      // Best and called shot are told by the same guide.
      const plan = shot.fine && base.fine ? null : (await guide.ask(base, { kind: 'plan', now: shot.item }, signal)).plan;
      signal.throwIfAborted();
      const best = plan ? (plan.shots[0]?.chance ?? 0) : (shot.best ?? 0);
      model.change(told, at, { own: chance ?? 0, best, better: plan ? betterOf(plan) : shot.better });
      if (at > 0) model.change(told, at - 1, { after: best });
    }
  }

  /** @param {AbortSignal} signal */
  async function decide(signal) {
    const { shots } = model.state;
    if (!isOver(model.state)) return;
    const known = shots.flatMap(({ best, own, after }) => (best === null || own === null || after === null ? [] : [{ best, own, after }]));
    if (known.length < shots.length) return;
    const { words } = await engine.ask('decided', { shots: known });
    if (!signal.aborted) model.change(set, { decided: words });
  }

  /** Weighs the shot at hand, where it is set beside the plan. @param {AbortSignal} signal */
  async function compare(signal) {
    const { now, hand, fine, panel, pocket, stroke, order } = model.state;
    if (!now || !pocket || !stroke || panel !== 'plan' || !isReady(model.state)) return;
    const item = { ...now.item, shot: { ...now.item.shot, stroke } };
    const base = baseFor(now.item, hand, fine);
    await guide.fill(base, signal, () => {});
    const { chance } = await guide.ask(base, { kind: 'weigh', now: item, called: { ball: order[0], pocket } }, signal);
    signal.throwIfAborted();
    if (model.state.stroke === stroke) model.change(set, { own: chance });
  }

  /** Where the plan or the ways on are looked at, finds out by playing which way is best, and plans by that. @param {AbortSignal} signal */
  async function race(signal) {
    const { now, hand, fine, panel, way } = model.state;
    if (!now || panel === 'shot' || !fine || way !== null || isOver(model.state)) return;
    const base = baseFor(now.item, hand, fine);
    await guide.fill(base, signal, () => {});
    const over = await guide.race(base, now.item, signal);
    if (!over) return;
    const { plan } = await guide.ask(base, { kind: 'plan', now: now.item, way: over.taken }, signal);
    signal.throwIfAborted();
    if (plan) model.change(raced, plan, over);
  }

  /** @param {AbortSignal} signal */
  async function confirm(signal) {
    const { now, hand, seed, fine, panel, way } = model.state;
    if (!now || panel !== 'plan' || (model.state.runs?.runs ?? 0) >= RUNS || isOver(model.state)) return;
    const base = baseFor(now.item, hand, fine);
    await guide.fill(base, signal, () => {});
    await guide.runs(base, { now: now.item, seed, n: RUNS, way }, signal, (sum) => {
      void engine.ask('sumOfRuns', sum).then((runs) => {
        if (!signal.aborted && runs.runs >= (model.state.runs?.runs ?? 0)) model.change(set, { runs });
      });
    });
  }

  /** @param {AbortSignal} signal */
  async function study(signal) {
    // What was played is weighed while its layout is still known.
    await weigh(signal);
    if (isOver(model.state)) return decide(signal);
    for (const fine of [false, true]) {
      const { now, hand, plan } = model.state;
      if (!now) return;
      const base = baseFor(now.item, hand, fine);
      if (plan && (model.state.fine || !fine)) continue;
      if (!fine && guide.knows({ ...base, fine: true })) continue;
      await guide.fill(base, signal, (found) => !signal.aborted && model.change(set, { found }));
      const found = await guide.ask(base, { kind: 'plan', now: now.item }, signal);
      signal.throwIfAborted();
      if (found.plan) model.change(planned, found.plan, fine);
      await weigh(signal);
    }
    await compare(signal);
    await race(signal);
    await confirm(signal);
  }

  /** Starts anew with what is now to be found out. */
  function begin() {
    stop.abort();
    const mine = (stop = new AbortController());
    busy = true;
    // A worker answers one question of the guide after the other: what was given up is over before this begins.
    last = last.then(() => (mine.signal.aborted ? undefined : study(mine.signal))).catch((error) => {
      if (mine.signal.aborted) return;
      // A worker that was replaced knows nothing.
      guide.forget();
      failed(error);
    }).finally(() => {
      if (mine === stop) busy = false;
    });
  }

  model.onChange((state, before) => {
    const other = state.now !== before.now || state.hand !== before.hand || state.shots.length !== before.shots.length;
    if (other) return begin();
    // A plan that is looked at is raced and confirmed, and the shot at hand set beside it; while it is worked out, that comes by itself.
    const asks = state.panel !== 'shot' && state.phase === 'drawing' && (state.panel !== before.panel || state.stroke !== before.stroke);
    if (asks && (state.fine || !busy)) begin();
  });

  return {
    /** Gives up what is under way, and forgets what a worker knew that may be replaced. */
    stop() {
      stop.abort();
      guide.forget();
    },
  };
}
