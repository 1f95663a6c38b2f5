// How far each input may be off, as bars; the chance under the hand; and how the path comes to the next ball.

import { byId, html } from '../../dom.js';
import { set, svg } from '../../table/svg.js';
import { sync } from '../../table/sync.js';

/** @import { Margins } from '../../engine/protocol.js' */
/** @import { Model } from '../state.js' */

/** The bar covers so many standard deviations of the hand to each side. */
const SIGMAS = 4;
const WIDE = 100;

const NAMES = { speed: 'speed', aim: 'aim', side: 'side', height: 'height' };

/** @param {Margins['bars'][number]} bar @param {number} value */
const across = ({ value: middle, error }, value) => Math.min(WIDE, Math.max(0, WIDE / 2 + ((value - middle) / (SIGMAS * (error || 1))) * (WIDE / 2)));

/** @param {Margins['bars'][number]} bar */
function makeBar(bar) {
  const row = html('li', 'margin');
  row.tabIndex = 0;
  const drawing = svg('svg', { class: 'margin-bar', viewBox: `0 0 ${WIDE} 14`, preserveAspectRatio: 'none', 'aria-hidden': 'true' },
    svg('path', { class: 'margin-base' }), svg('path', { class: 'margin-potted' }), svg('path', { class: 'margin-met' }), svg('path', { class: 'margin-hand' }));
  const [label, value] = [html('span', 'label', NAMES[bar.input]), html('span', 'value')];
  row.append(label, drawing, value);
  return row;
}

/** @param {Margins['bars'][number]} bar */
const spanOf = ({ met }) => (met ? `${met.low.words} … ${met.high.words}` : 'no room');

/** @param {Element} row @param {Margins['bars'][number]} bar */
function updateBar(row, bar) {
  const [base, potted, met, hand] = row.children[1].children;
  const span = (/** @type {typeof bar.met} */ one) => (one ? `M${across(bar, one.low.value)} 7H${across(bar, one.high.value)}` : '');
  set(base, { d: `M0 7H${WIDE}M${WIDE / 2} 1V13` });
  set(potted, { d: span(bar.potted) });
  set(met, { d: span(bar.met) });
  const [low, high] = [-1, 1].map((k) => across(bar, bar.value + k * bar.error));
  set(hand, { d: `M${low} 4V10M${high} 4V10` });
  row.children[2].textContent = spanOf(bar);
  set(row, {
    'aria-label': bar.met
      ? `${NAMES[bar.input]}: from ${bar.met.low.words}, then ${bar.met.low.breaks}, to ${bar.met.high.words}, then ${bar.met.high.breaks}`
      : `${NAMES[bar.input]}: no room`,
  });
}

const hundred = (/** @type {number} */ share) => Math.round(100 * share);

/** @param {Model} model */
export function createMarginsPanel(model) {
  const panel = byId('bench-margins', HTMLElement);
  const list = byId('bench-bars', HTMLUListElement);
  const [chance, approach, told] = ['bench-chance', 'bench-approach', 'bench-told'].map((id) => byId(id, HTMLElement));

  const point = (/** @type {Event} */ { target, type }) => {
    const lit = type === 'pointerleave' || type === 'focusout' ? null : (target instanceof Element && target.closest('li')?.getAttribute('data-key')) || null;
    model.change((state) => (state.lit === lit ? state : { ...state, lit }));
  };
  for (const type of ['pointerover', 'pointerleave', 'focusin', 'focusout']) list.addEventListener(type, point);

  model.onDraw(({ margins, draft, lit }, before) => {
    panel.classList.toggle('stale', margins === null || draft !== null);
    if (!margins || (margins === before.margins && lit === before.lit)) return;
    sync(list, margins.bars, ({ input }) => input, makeBar, (row, bar) => {
      updateBar(row, bar);
      row.classList.toggle('lit', bar.input === lit);
    });
    const { met, potted } = margins.chance;
    const pointed = margins.bars.find(({ input }) => input === lit);
    // Where the bars stand alone, the one that is pointed at is told here.
    told.textContent = pointed ? `${NAMES[pointed.input]}: ${spanOf(pointed)}` : '';
    chance.textContent = margins.fault ?? `${hundred(met.share)} of 100 as asked (${hundred(met.low)} to ${hundred(met.high)}), ${hundred(potted.share)} potted.`;
    approach.textContent = margins.approach?.words ?? '';
  });
}
