// The block of a part on the page: what all parts have stands here once, what differs is passed in.

import { byId, html } from '../dom.js';
import { svg } from '../table/svg.js';

/** @import { Name } from '../parts.js' */

/**
 * What differs between the parts. `choice` is the list in the page's head; a cell of the title block is its id, its
 * caption, and whether it takes what room is left or gives way on a phone; between backticks in `keys` stand keys.
 * @typedef {object} Block
 * @property {{ id: string, caption: string }} choice
 * @property {(Element | string)[]} side What stands beside the table.
 * @property {Element[]} actions
 * @property {readonly [id: string, caption: string, kind: 'wide' | 'extra' | ''][]} cells
 * @property {readonly [keys: string, words: string][]} keys
 */

/** The title block of every part whose items are dealt and graded. @type {Block['cells']} */
export const CELLS = [
  ['task', 'Item', 'wide'],
  ['level', 'Level', 'extra'],
  ['deal', 'Number', ''],
  ['card', 'Table', 'extra'],
  ['model', 'Physics', 'extra'],
];

/** @param {string} text */
const withKeys = (text) => text.split('`').map((piece, k) => (k % 2 ? html('kbd', {}, piece) : piece));

/** Puts the block of a part on the page. @param {Name} name @param {Block} block */
export function makeBlock(name, { choice, side, actions, cells, keys }) {
  byId('help', HTMLElement).before(
    html('label', { class: 'level', 'data-part': name, hidden: '' },
      html('span', { class: 'caption' }, choice.caption), html('select', { id: `${name}-${choice.id}` })));
  byId('sheet', HTMLElement).append(
    html('div', { class: 'part', id: name, 'data-part': name, hidden: '' },
      html('main', { class: 'board' },
        html('section', { class: 'stage', 'aria-label': 'Table' },
          svg('svg', { class: 'table', id: `${name}-table`, role: 'group', 'aria-label': 'The table, drawn to scale' })),
        html('p', { class: 'hint', id: `${name}-hint` }, 'Setting up the table…'),
        html('div', { class: 'side' }, ...side),
        html('div', { class: 'actions' }, ...actions)),
      html('section', { class: 'title', 'aria-label': 'Title block' },
        html('dl', {}, ...cells.map(([id, caption, kind]) =>
          html('div', { class: `cell ${kind}`.trim() }, html('dt', {}, caption), html('dd', { id: `${name}-title-${id}` })))))));
  byId('help-keys', HTMLElement).append(
    html('dl', { class: 'keys', 'data-part': name, hidden: '' }, ...keys.map(([one, words]) =>
      html('div', {}, html('dt', {}, ...withKeys(one)), html('dd', {}, ...withKeys(words))))));
}

/**
 * The stroke: the tip on the cue ball's face, the speed on a ruler, and both in words. Where the player sets it, `most`
 * is the highest speed in lengths.
 * @param {Name} name @param {string} title @param {number | null} most @param {Element[]} more
 */
export function strokeSection(name, title, most, ...more) {
  const slider = (/** @type {string} */ label, /** @type {object} */ rest) =>
    most === null ? {} : { role: 'slider', tabindex: 0, 'aria-label': label, 'aria-valuenow': 0, ...rest };
  return html('section', { class: 'stroke', id: `${name}-stroke`, 'aria-labelledby': `${name}-stroke-title` },
    html('h2', { class: 'heading', id: `${name}-stroke-title` }, title),
    html('div', { class: 'gauges', 'aria-hidden': most === null ? 'true' : null },
      svg('svg', { id: `${name}-face`, class: 'face', viewBox: '-52 -52 104 104', ...slider('Tip on the cue ball', { 'aria-valuemin': -2, 'aria-valuemax': 2 }) }),
      svg('svg', { id: `${name}-ruler`, class: 'ruler', viewBox: '0 -8 66 120', ...slider('Speed', { 'aria-orientation': 'vertical', 'aria-valuemin': 0, 'aria-valuemax': most }) })),
    html('p', { class: 'words', id: `${name}-words` }),
    html('ul', { class: 'advice', id: `${name}-advice`, hidden: '' }),
    ...more);
}

/**
 * The grade: mark, legend, whose it is, its lines, and why.
 * @param {Name} name
 * @param {{ title: string, legend: readonly [kind: string, words: string][], whose: string, why: string, facts: string, more?: Element[] }} words
 */
export function gradeSection(name, { title, legend, whose, why, facts, more = [] }) {
  const list = (/** @type {string} */ id, /** @type {string} */ label, kind = '') =>
    html('ul', { class: `lines ${kind}`.trim(), id: `${name}-${id}`, role: 'listbox', tabindex: 0, 'aria-label': label });
  return html('section', { class: 'grade', id: `${name}-grade`, 'aria-labelledby': `${name}-grade-title`, hidden: '' },
    html('h2', { class: 'heading', id: `${name}-grade-title` }, title),
    html('div', { class: 'verdict' },
      html('p', { class: 'mark' }, html('span', { id: `${name}-mark` }), ' ', html('small', {}, 'of 100')),
      html('ul', { class: 'legend', 'aria-hidden': 'true' }, ...legend.map(([kind, words]) => html('li', { class: `of-${kind}` }, words)))),
    html('div', { class: 'whose', id: `${name}-whose`, role: 'group', 'aria-label': whose, hidden: '' },
      html('button', { type: 'button', id: `${name}-own` }), html('button', { type: 'button', id: `${name}-sender` })),
    list('lines', 'The grade, line by line'),
    html('div', { class: 'why-panel', id: `${name}-why-panel`, hidden: '' },
      list('why-list', why, 'why-list'),
      ...more,
      html('ul', { class: 'lines why-facts', id: `${name}-why-facts`, 'aria-label': facts })));
}
