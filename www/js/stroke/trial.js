// The stroke that a player sets: shown while it is changed, aimed at a pocket, and shown again after a step back.

import { latest } from '../newest-request.js';
import { set } from '../state.js';
import { sentenceFor } from '../sentences.js';
import { struck, tried } from './state.js';

/** @import { LeaveItem, PocketName, Struck } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { WholeAround } from '../round/session.js' */
/** @import { Striking } from './state.js' */

/**
 * What differs between the parts: the item to be tried with a stroke and a pocket, null if there is none yet; and whether
 * it is the same shot before and after a change.
 * @template {Striking} S
 * @typedef {{ itemOf(state: S, stroke: Struck, pocket: PocketName | null): LeaveItem | null, isSame(state: S, before: S): boolean }} Of
 */

/** @template {Striking} S @param {ModelOf<S>} model @param {Pick<WholeAround, 'engine' | 'say'>} around @param {Of<S>} of */
export function createStrokes(model, { engine, say }, { itemOf, isSame }) {
  let measured = '';

  /** Aims the stroke with a change, and shows it; `final` lets it stand. During a drag only the newest wish waits. */
  const strokes = latest(async (/** @type {{ change: Partial<Struck>, pocket: PocketName | null, final: boolean }} */ { change, pocket, final }) => {
    const before = model.state;
    // The core lifts the cue as far as it must, and no further.
    const item = before.stroke && itemOf(before, { ...before.stroke, ...change, elevation: 0 }, pocket);
    if (!item) return;
    try {
      const trial = await engine.ask('trial', { item, aim: true });
      if (!isSame(model.state, before)) return;
      if (final) model.change(struck, trial, pocket);
      else model.change(tried, trial);
    } catch (error) {
      if (final) say(sentenceFor(error));
    }
  });

  /** After a step back the stroke is shown as it was. */
  async function retry() {
    const before = model.state;
    const item = before.stroke && itemOf(before, before.stroke, before.pocket);
    if (!item) return;
    const trial = await engine.ask('trial', { item, aim: false });
    if (isSame(model.state, before) && model.state.stroke === before.stroke) model.change(tried, trial);
  }

  model.onChange((state, before) => {
    if (state.stroke !== before.stroke && isSame(state, before) && state.trial === before.trial) void retry();
  });

  return {
    /** Learns how far the table's cloth lets each speed go. @param {LeaveItem} item */
    async measure(item) {
      const table = JSON.stringify(item.shot.table);
      if (table === measured) return;
      /** @type {Striking['scale']} */
      const scale = await engine.ask('speedScale', { item });
      measured = table;
      model.change(set, /** @type {Partial<S>} */ ({ scale }));
    },

    settled: strokes.settled,

    /** Shows a stroke while it is changed. @param {Partial<Struck>} change */
    preview: (change) => strokes.push({ change, pocket: model.state.pocket, final: false }),

    /** Lets a changed stroke stand, aimed at a pocket. @param {Partial<Struck>} change @param {PocketName | null} [pocket] */
    commit(change, pocket = model.state.pocket) {
      strokes.push({ change, pocket, final: true });
      return strokes.settled();
    },
  };
}
