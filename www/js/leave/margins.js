// The margins of the stroke that was played beside those of the best one, and how both come to the next ball.

import { byId, html, put } from '../dom.js';
import { barInWords, drawBars, listenToBars } from '../panels/bars.js';
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

/** @param {Margins | undefined} margins @param {string} whose */
const comes = (margins, whose) => (margins?.approach ? [`${whose} ${margins.approach.way} (${Math.round(margins.approach.angle)}°)`] : []);

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
    put(told, lit ? barInWords(lit, all) : '');
    const order = best ? 'Above yours, below the best. ' : '';
    put(chance, order + (own.fault ? `Yours: ${own.fault}; the thin bars are for the pot alone.` : ''));
    const ways = [...comes(own, 'yours'), ...comes(best, 'the best')];
    put(approach, ways.length ? `To the line of the next: ${ways.join(', ')}.` : '');
  };
}
