// Brings a place on the table to where a call can have a point: the core decides.

import { sentenceFor } from '../sentences.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Place, Point } from '../engine/protocol.js' */
/** @import { Model } from './state.js' */

/** @typedef {{ place: Place, snap: boolean, reach: number }} SnapRequest */
/** @typedef {(request: SnapRequest) => Promise<Point | null>} Snap Null if the item changed meanwhile. */

/** @param {Engine} engine @param {Model} model @param {(sentence: string) => void} say @returns {Snap} */
export const snapWith = (engine, model, say) => async ({ place, snap, reach }) => {
  const { question } = model.state;
  if (!question) return null;
  try {
    const point = await engine.ask('snap', { item: question.item, ...place, reach, snap });
    return model.state.question === question ? point : null;
  } catch (error) {
    say(sentenceFor(error));
    return null;
  }
};
