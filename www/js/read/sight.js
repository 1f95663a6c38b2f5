// What Read shows first: its block, the item on the table, and a call that grows by taps and keys. The rest joins it later.

import { FIRST } from '../../pkg/first.js';
import { button, byId } from '../dom.js';
import { showGiven } from '../panels/gauges.js';
import { listenToPathKeys } from '../path/keys.js';
import { listenToPathPointer } from '../path/pointer.js';
import { FULL, read, unread } from '../path/state.js';
import { createModel } from '../state.js';
import { bring, unveil } from '../which-part.js';
import { createBlock } from './block.js';
import { EMPTY, opened } from './state.js';
import { createView } from './view.js';

/** @import { ReadEngine } from '../engine/client.js' */
/** @import { Question } from '../engine/protocol.js' */
/** @import { PathModel } from '../path/state.js' */
/** @import { Snap } from '../path/snap.js' */

const WORDS = 'a place that is still to be read';

/** Takes points before the core is there: each as it was placed, until the core has read it. @param {PathModel} model */
export function createEarly(model) {
  /** What reads points, and whether it is ready to. @type {{ engine: Pick<ReadEngine, 'isReady'>, snap: Snap } | null} */
  let core = null;
  let arrive = () => {};
  /** @type {Promise<void>} */
  const arrived = new Promise((done) => (arrive = done));
  /** @type {Promise<void> | null} */
  let reading = null;

  async function readAll() {
    await arrived;
    for (let one = unread(model.state); one; one = unread(model.state)) {
      const point = await core?.snap(one.asked);
      // What went wrong is said; Play tries again.
      if (!point) break;
      model.change(read, one, point);
    }
    reading = null;
  }

  const settled = () => (reading ??= readAll());

  return {
    /** @type {Snap} */
    async snap(request) {
      if (core?.engine.isReady()) return core.snap(request);
      // Once the point is where it was placed.
      setTimeout(settled);
      return /** @type {import('../path/state.js').Unread} */ ({ ...request.place, words: WORDS, asked: request });
    },

    /** Says who reads the points. @param {Pick<ReadEngine, 'isReady'>} engine @param {Snap} snap */
    connect(engine, snap) {
      core = { engine, snap };
      arrive();
    },

    /** Resolves when the core has read all points. */
    settled,
  };
}

/** What to do on an item where nothing is called yet. @param {Pick<Question, 'aim'>} question */
export const invitation = ({ aim }) => `Guess: tap where the cue ball stops, off the ${aim.first}. Cushions that it meets on the way come first.`;

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
  hint.textContent = invitation(FIRST.question);
  for (const tool of ['undo', 'redo', 'remove']) button(`read-${tool}`).disabled = true;
  sight.model.change(opened, FIRST.question);
  unveil();
  bring('read');
  return sight;
}

/** @typedef {ReturnType<typeof createSight>} Sight */
