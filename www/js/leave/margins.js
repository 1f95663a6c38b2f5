// The margins of the stroke that was played beside those of the best one, and how both come to the next ball.

import { byId, html, put } from '../dom.js';
import { barInWords, drawBars, listenToBars, marksInWords } from '../panels/bars.js';
import { scaleBlock } from '../panels/map-legend.js';

/** @import { Margins } from '../engine/protocol.js' */
/** @import { Of } from '../panels/bars.js' */
/** @import { Reasons } from '../panels/why.js' */
/** @import { Model } from './state.js' */

export const marginsBlock = () => [
  scaleBlock('leave'),
  html('ul', { class: 'bars', id: 'leave-bars', 'aria-label': 'Margins of your stroke beside those of the best' }),
  html('p', { class: 'told', id: 'leave-told', 'aria-hidden': 'true' }),
  html('p', { class: 'chance', id: 'leave-chance' }),
  html('p', { class: 'approach', id: 'leave-approach' }),
];

/** What the bars show. @param {Margins} own @param {boolean} both */
const legend = (own, both) => `Room for error: ${both ? 'upper bar yours, lower the best; ' : ''}${marksInWords(own)}.`;

/** How yours comes to the next ball, and the best. @param {Margins} own @param {Margins} [best] */
function comes({ approach }, best) {
  if (!approach) return '';
  const at = (/** @type {number} */ angle) => `${Math.round(angle)}°`;
  const other = best?.approach ? `, the best at ${at(best.approach.angle)}` : '';
  return `Yours comes in at ${at(approach.angle)} to the line of the next shot${other}; 0° forgives most.`;
}

/** @param {Model} model @returns {(reasons: Reasons) => void} draws what is known */
export function createMargins(model) {
  const list = byId('leave-bars', HTMLUListElement);
  const [told, chance, approach] = ['told', 'chance', 'approach'].map((id) => byId(`leave-${id}`, HTMLElement));
  /** @type {string | null} */
  let lit = null;
  listenToBars(list, (input) => {
    lit = input;
    model.schedule();
  });

  return ({ own, best }) => {
    if (!own) return;
    /** @type {Of[]} */
    const all = [{ margins: own, whose: 'yours' }, ...(best ? [{ margins: best, whose: 'best' }] : [])];
    drawBars(list, all, lit);
    put(told, barInWords(lit ?? own.bars[0].input, all));
    put(chance, legend(own, best !== undefined));
    put(approach, comes(own, best));
  };
}
