// What Read shows first: its block, the item on the table, and a call that grows by taps and keys. The rest joins it later.

import { FIRST } from '../../pkg/first.js';
import { byId } from '../dom.js';
import { bring, unveil } from '../which-part.js';
import { createModel } from '../state.js';
import { showGiven } from '../panels/gauges.js';
import { createEarly } from '../path/early.js';
import { listenToPathKeys } from '../path/keys.js';
import { listenToPathPointer } from '../path/pointer.js';
import { FULL } from '../path/state.js';
import { createBlock } from './block.js';
import { EMPTY, opened } from './state.js';
import { createView } from './view.js';

/** @param {(sentence: string) => void} say */
export function createSight(say) {
  createBlock();
  const table = byId('read-table', SVGSVGElement);
  const model = createModel(EMPTY);
  const view = createView(table, model);
  const early = createEarly(model);
  const asked = () => (model.state.phase === 'drawing' ? model.state.question : null);
  const start = () => {
    const question = asked();
    return question && { ghost: question.aim.ghost, from: question.aim.path[0], table: question.table };
  };
  const full = () => say(FULL);
  listenToPathPointer(table, model, view.board, early.snap, () => asked()?.aim.ghost ?? null, full);
  listenToPathKeys(table, model, view.board, early.snap, start, full);
  showGiven('read', model);
  return { model, view, early };
}

/** Shows the first item, while nothing else of the page is there. @param {(sentence: string) => void} say */
export function openSight(say) {
  const sight = createSight(say);
  const hint = byId('read-hint', HTMLElement);
  // The walk-through is offered here, so that nothing moves when it comes.
  hint.classList.add('roomy');
  hint.textContent = FIRST.question.task;
  sight.model.change(opened, FIRST.question);
  unveil();
  bring('read');
  return sight;
}

/** @typedef {ReturnType<typeof createSight>} Sight */
