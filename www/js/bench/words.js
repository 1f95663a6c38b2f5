// What the Bench says of a stroke: in the line under the table, and to a screen reader.

import { told } from '../round/narrate.js';
import { shownItem } from './state.js';

/** @import { Model, State } from './state.js' */

/** @param {State} state */
export function hint(state) {
  const { trial, ten, zoning, chosen, way } = state;
  const item = shownItem(state);
  if (!trial || !item) return 'Setting up the table…';
  const named = chosen?.startsWith('ball ') ? chosen.slice(5) : '';
  if (zoning) return 'Drag a zone onto the cloth.';
  if (ten.length) return `Ten strokes: ${ten.filter(({ potted }) => potted).length} potted, ${ten.filter(({ met }) => met).length} as called.`;
  if (named && named !== 'cue' && item.shot.balls.some(({ id }) => id === named)) {
    return `${named} ball: O makes it the ball on, E the next, Delete takes it away.`;
  }
  return `${way && `At ${way}: `}${trial.refusal ? told([trial.refusal]) : trial.words}`;
}

/** Tells what stands on the Bench when it is opened. @param {Model} model @param {(sentence: string) => void} announce */
export function announceLayout(model, announce) {
  model.onChange(({ item, trial }, before) => {
    if (!item || before.item !== null || !trial) return;
    announce(told([trial.task, ...trial.balls.map(({ words }) => words), trial.stroke.words, trial.words]));
  });
}
