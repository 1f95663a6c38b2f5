// One item on paper: the drawing, where each ball lies, what is given and asked, room for tries, and the way back.

import { html } from '../dom.js';
import { svg } from '../table/svg.js';
import { drawDiagram, scaleFor } from './diagram.js';

/** @import { AnyItem } from '../engine/protocol.js' */
/** @import { Facts } from './facts.js' */

/** What is printed: an item under a title of the user's, with a note. @typedef {{ title: string, note: string, item: AnyItem }} Page */

/** For so many items on a sheet: how wide the table may be, mm, and how many rows of tries there are. @type {Record<number, { width: number, rows: number }>} */
const ROOM = { 1: { width: 190, rows: 6 }, 2: { width: 120, rows: 3 }, 4: { width: 90, rows: 2 } };
/** Boxes in a row. */
const TRIES = 10;

/** What every sheet says of itself. */
const PROMISE = 'A computed layout promises nothing: a real table differs.';

/** @param {number} rows */
const tries = (rows) =>
  html('div', { class: 'slip-tries' }, ...Array.from({ length: rows }, () =>
    html('p', { class: 'slip-row' }, html('span', { class: 'slip-date' }, 'Date'),
      ...Array.from({ length: TRIES }, () => html('span', { class: 'slip-box' })))));

/** @param {Facts} facts */
const code = ({ code: { size, path }, url }) =>
  html('div', { class: 'slip-code' },
    svg('svg', { viewBox: `0 0 ${size} ${size}`, role: 'img', 'aria-label': `Code for a camera: ${url}` },
      svg('rect', { class: 'light', width: size, height: size }), svg('path', { class: 'dark', d: path })),
    html('p', {}, 'opens this item'));

/** @param {Facts} facts */
const places = ({ balls }) =>
  html('ul', { class: 'slip-places', 'aria-label': 'Where the balls lie' }, ...balls.map(({ words }) => html('li', {}, words)));

/**
 * @param {string} id Of the drawing. @param {Page} page @param {Facts} facts @param {number} among How many share the sheet.
 */
export function makeSlip(id, { title, note }, facts, among) {
  const { width, rows } = ROOM[among];
  const scale = scaleFor(facts.table, width);
  const { part, level, card, model, task, given } = facts;
  return html('article', { class: 'slip' },
    html('header', { class: 'slip-head' },
      html('p', { class: 'slip-part' }, `Leaveline ${part} · ${level.name}`),
      ...(title ? [html('h3', {}, title)] : [])),
    html('div', { class: 'table slip-table' }, drawDiagram(id, facts, scale)),
    html('div', { class: 'slip-side' },
      html('div', { class: 'slip-facts' },
        html('p', { class: 'slip-task' }, task),
        ...given.map((words) => html('p', {}, words)),
        ...(note ? [html('p', { class: 'slip-note' }, note)] : []),
        places(facts)),
      code(facts)),
    tries(rows),
    html('footer', { class: 'slip-foot' }, html('p', {}, PROMISE), html('p', {}, `${card} · 1 : ${scale} · model ${model}`)));
}

/** Sets an item smaller until all of it is on its paper; says whether it is. @param {Element} slip */
export function fit(slip) {
  for (const size of ['', 'small', 'tiny']) {
    if (size) slip.classList.add(size);
    if (slip.scrollHeight <= slip.clientHeight + 1 && slip.scrollWidth <= slip.clientWidth + 1) return true;
  }
  return false;
}

/** In the place of an item that cannot be laid out. @param {string} title @param {string} sentence */
export const makeFailedSlip = (title, sentence) =>
  html('article', { class: 'slip failed' }, html('header', { class: 'slip-head' }, html('h3', {}, title)), html('p', {}, sentence));
