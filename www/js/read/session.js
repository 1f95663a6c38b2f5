// How Read deals, opens, keeps and grades.

import { MOST_POINTS, callOf } from '../path/state.js';
import { createRound, reread } from '../round/session.js';
import { createStore } from '../store.js';
import { asked, opened } from './state.js';

/** @import { Around, Kept } from '../round/session.js' */
/** @import { Model, State } from './state.js' */

/** @param {any} entry */
const isEntry = (entry) => typeof entry.item === 'object' && Array.isArray(entry.points) && entry.points.length <= MOST_POINTS;

/** What Read keeps on the device. @type {ReturnType<typeof createStore<Kept>>} */
export const store = createStore('read', isEntry);

/** @param {State} state */
const answer = ({ points }) => (points.length > 0 ? { call: callOf(points) } : null);

/** @param {Model} model @param {Around} around */
export function createSession(model, around) {
  const { engine } = around;
  return createRound(model, around, {
    name: 'read',
    store,
    deal: (wish) => engine.ask('deal', wish),
    show: (item) => engine.ask('openItem', item),
    link: (item, withAnswer) => engine.ask('makeLink', { item, ...(withAnswer && answer(model.state)) }),
    async prepare(question, sealed, entry) {
      const points = entry ? await reread(around, question.item, entry.points) : [];
      return (/** @type {State} */ state) => opened(state, question, { sealed, points });
    },
    asked,
    answer,
    grade: (request) => engine.ask('grade', request),
    mark: ({ result }) => result?.grade.mark ?? null,
    called: ({ call }) => call,
    keeps: [],
    kept: () => ({}),
  });
}
