// A set is taken: item after item in its own part, with its marks kept.

import { dayOf, keepMarks, marksOf } from './daily-scores.js';
import { readTaking, writeTaking } from './kept.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { ItemSet, SetMark } from '../engine/protocol.js' */
/** @import { Page } from '../main.js' */
/** @import { Taking } from './kept.js' */

/** A set is begun; that of a day goes on with what counts of it, until all of it does. @param {Engine} engine @param {string} id @param {ItemSet} set @param {number | null} claimed @returns {Promise<Taking>} */
export async function begin(engine, id, set, claimed) {
  const links = [];
  for (const { item } of set.entries) links.push(await engine.ask('makeLink', { item }));
  const counted = marksOf(dayOf(id));
  const marks = counted?.includes(null) && counted.length === links.length ? counted : links.map(() => null);
  return { id, set, links, marks, at: 0, claimed };
}

/** The taking that is under way, and who wants to know of it; one for the page. */
function createTaking() {
  let taking = readTaking();
  /** @type {Set<() => void>} */
  const listeners = new Set();

  /** @param {Taking | null} next */
  function put(next) {
    taking = next;
    const kept = writeTaking(next);
    const day = next && dayOf(next.id);
    if (next && day !== null) keepMarks(day, next.marks);
    for (const listener of listeners) listener();
    return kept;
  }

  return {
    get now() {
      return taking;
    },
    put,
    /** @param {() => void} listener */
    onChange: (listener) => void listeners.add(listener),

    /** An item was played: only the first time counts. @param {string} link @param {SetMark} mark */
    heard(link, mark) {
      if (!taking) return;
      const { marks, links } = taking;
      const at = links.findIndex((one, k) => one === link && marks[k] === null);
      if (at >= 0) put({ ...taking, at, marks: marks.map((one, k) => (k === at ? mark : one)) });
    },

    /** Opens an item of it in its part: anew, unless it has its mark. @param {Page} page @param {number} at */
    visit(page, at) {
      if (!taking) return;
      put({ ...taking, at });
      page.parts.visit(taking.links[at], taking.marks[at] === null ? 'fresh' : undefined);
    },
  };
}

export const taking = createTaking();
