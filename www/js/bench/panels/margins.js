// The margins of the stroke as bars; the chance under the hand; and how the path comes to the next ball.

import { byId, html, put } from '../../dom.js';
import { barInWords, drawBars, listenToBars, marksInWords } from '../../panels/bars.js';

/** @import { Model } from '../state.js' */

const hundred = (/** @type {number} */ share) => Math.round(100 * share);

/** @param {...Element} more */
export const marginsSection = (...more) =>
  html('section', { class: 'margins', id: 'bench-margins', 'aria-labelledby': 'bench-margins-title' },
    html('div', { class: 'margins-head' },
      html('h2', { class: 'heading', id: 'bench-margins-title' }, 'Margins'),
      html('p', { class: 'marks', id: 'bench-marks' })),
    ...more,
    html('ul', { class: 'bars', id: 'bench-bars', 'aria-labelledby': 'bench-margins-title' }),
    html('p', { class: 'told', id: 'bench-told', 'aria-hidden': 'true' }),
    html('p', { class: 'chance', id: 'bench-chance' }),
    html('p', { class: 'approach', id: 'bench-approach' }));

/** @param {Model} model */
export function createMarginsPanel(model) {
  const panel = byId('bench-margins', HTMLElement);
  const list = byId('bench-bars', HTMLUListElement);
  const [chance, approach, told, marks] = ['chance', 'approach', 'told', 'marks'].map((id) => byId(`bench-${id}`, HTMLElement));
  listenToBars(list, (lit) => model.change((state) => (state.lit === lit ? state : { ...state, lit })));

  model.onDraw(({ margins, draft, lit }, before) => {
    panel.classList.toggle('stale', margins === null || draft !== null);
    if (!margins || (margins === before.margins && lit === before.lit)) return;
    drawBars(list, [{ margins }], lit);
    put(marks, marksInWords(margins));
    const { met, potted } = margins.chance;
    // Where the bars stand without numbers, the one that is pointed at is told here.
    put(told, barInWords(lit ?? margins.bars[0].input, [{ margins }]));
    const fault = margins.fault ? `As struck: ${margins.fault}. ` : '';
    put(chance, `${fault}${hundred(met.share)} of 100 do all that is called (${hundred(met.low)} to ${hundred(met.high)}), ${hundred(potted.share)} potted.`);
    put(approach, margins.approach?.words ?? '');
  });
}
