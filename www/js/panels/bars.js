// How far each input of a stroke may be off, as bars: of one stroke, or of two beside one another.

import { html, put } from '../dom.js';
import { set, svg, sync } from '../table/svg.js';

/** @import { Margins } from '../engine/protocol.js' */

/** @typedef {Margins['bars'][number]} Bar */
/** The margins of one stroke, and whose it is where there are two. @typedef {{ margins: Margins, whose?: string }} Of */

/** The bar covers so many standard deviations of the hand to each side. */
const SIGMAS = 4;
const WIDE = 100;

/** @param {Bar} bar @param {number} value */
const across = ({ value: middle, error }, value) => Math.min(WIDE, Math.max(0, WIDE / 2 + ((value - middle) / (SIGMAS * (error || 1))) * (WIDE / 2)));

const end = () => html('span', { class: 'margin-end' });

/** A bar between the numbers of its ends. */
const makeBar = () => [
  end(),
  svg('svg', { class: 'margin-bar', viewBox: `0 0 ${WIDE} 14`, preserveAspectRatio: 'none', 'aria-hidden': 'true' },
    ...['base', 'potted', 'met', 'hand'].map((kind) => svg('path', { class: `margin-${kind}` }))),
  end(),
];
/** So many elements. */
const PIECES = 3;

/** @param {readonly Element[]} pieces @param {Bar} bar */
function draw([from, { children: [base, potted, met, hand] }, to], bar) {
  const ends = bar.met ?? bar.potted;
  put(from, ends?.low.short ?? 'no room');
  put(to, ends?.high.short ?? '');
  const span = (/** @type {Bar['met']} */ one) => (one ? `M${across(bar, one.low.value)} 7H${across(bar, one.high.value)}` : '');
  set(base, { d: `M0 7H${WIDE}M${WIDE / 2} 1V13` });
  set(potted, { d: span(bar.potted) });
  set(met, { d: span(bar.met) });
  const [low, high] = [-1, 1].map((k) => across(bar, bar.value + k * bar.error));
  set(hand, { d: `M${low} 4V10M${high} 4V10` });
}

/** Of a stroke that does not do what it should, the range in which it pots. @param {Bar} bar */
function shortly({ met, potted }) {
  const span = met ?? potted;
  return span ? `${span.low.short} … ${span.high.short}${met ? '' : ', the pot alone'}` : 'no room';
}

/** @param {Bar} bar */
function wholly({ met, potted }) {
  const span = met ?? potted;
  if (!span) return 'no room';
  return `${met ? '' : 'for the pot alone '}from ${span.low.words}, then ${span.low.breaks}, to ${span.high.words}, then ${span.high.breaks}`;
}

/** What an input's bars say. @param {string} input @param {readonly Of[]} all @param {(bar: Bar) => string} say */
function inWords(input, all, say) {
  const words = all.map(({ margins, whose }) => {
    const bar = margins.bars.find((one) => one.input === input);
    return bar ? `${whose ? `${whose} ` : ''}${say(bar)}` : '';
  });
  return words.join('; ');
}

/** What stands on the bars beside what is said of them. @param {Margins} margins */
export const marksInWords = ({ fault }) => `ticks: the hand${fault ? '; thin: the pot alone' : ''}`;

/** An input's bars in short, for where there is no room for the numbers of their ends. @param {string} input @param {readonly Of[]} all */
export const barInWords = (input, all) => `${input}: ${inWords(input, all, shortly)}; ${marksInWords(all[0].margins)}`;

/**
 * Draws the bars into a list; the input that is pointed at is lit.
 * @param {HTMLUListElement} list @param {readonly Of[]} all @param {string | null} lit
 */
export function drawBars(list, all, lit) {
  sync(list, all[0].margins.bars, ({ input }) => input,
    ({ input }) => html('li', { class: 'margin', tabindex: 0 }, html('span', { class: 'label' }, input)),
    (row, { input }) => {
      const pieces = 1 + PIECES * all.length;
      while (row.childElementCount > pieces) row.lastElementChild?.remove();
      while (row.childElementCount < pieces) row.append(...makeBar());
      all.forEach(({ margins }, k) => {
        const bar = margins.bars.find((one) => one.input === input);
        if (bar) draw([...row.children].slice(1 + PIECES * k), bar);
      });
      set(row, { 'aria-label': `${input}: ${inWords(input, all, wholly)}` });
      row.classList.toggle('lit', input === lit);
    });
}

/** Tells which input of a list of bars is pointed at. @param {HTMLUListElement} list @param {(input: string | null) => void} point */
export function listenToBars(list, point) {
  for (const type of ['pointerover', 'pointerleave', 'focusin', 'focusout']) {
    list.addEventListener(type, ({ target }) => {
      const gone = type === 'pointerleave' || type === 'focusout' || !(target instanceof Element);
      point(gone ? null : (target.closest('li')?.getAttribute('data-key') ?? null));
    });
  }
}
