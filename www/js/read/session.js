// How Read deals, opens, keeps and grades.

import { FIRST, MOST_POINTS } from '../../pkg/first.js';
import { callOf } from '../path/state.js';
import { createRound, reread } from '../round/session.js';
import { loads } from '../round/state.js';
import { createStore } from '../store.js';
import { asked, opened } from './state.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Item, LogRecord } from '../engine/protocol.js' */
/** @import { Around, Kept } from '../round/session.js' */
/** @import { Model, State } from './state.js' */

/** @param {any} entry */
const isEntry = (entry) => typeof entry.item === 'object' && Array.isArray(entry.points) && entry.points.length <= MOST_POINTS;

/** What Read keeps on the device. @type {ReturnType<typeof createStore<Kept>>} */
export const store = createStore('read', isEntry);

/** Makes a call of the Log what was kept of its item. @param {Extract<LogRecord, { item: Item }>} record @param {Engine} engine */
export async function putBack({ item, call }, engine) {
  const link = await engine.ask('makeLink', { item });
  store.write({ link, item, points: [...call.points, call.stop], sealed: null, played: true }, item.level);
  return link;
}

/** @param {State} state */
const answer = ({ points }) => (points.length > 0 ? { call: callOf(points) } : null);

/** @param {Model} model @param {Around} around @param {() => Promise<void>} settled Once the core has read the points. */
export function createSession(model, around, settled) {
  const { engine } = around;
  return createRound(model, around, {
    name: 'read',
    store,
    first: FIRST,
    deal: (wish) => engine.ask('deal', wish),
    show: (item) => engine.ask('openItem', item),
    link: (item, withAnswer) => engine.ask('makeLink', { item, ...(withAnswer && answer(model.state)) }),
    async prepare(question, sealed, entry) {
      const points = entry ? await reread(around, question.item, entry.points) : [];
      return (/** @type {State} */ state) => opened(state, question, { sealed, points });
    },
    async settled() {
      model.change(loads, !engine.isReady());
      await settled();
      model.change(loads, false);
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
