// The stroke that is given: the tip on the cue ball's face, the speed on a ruler, and both in words.

import { byId, html } from '../../dom.js';
import { drawFace, drawRuler } from '../../panels/gauges.js';

/** @import { Model } from '../state.js' */

/** @param {Model} model */
export function createStrokePanel(model) {
  const face = byId('face', SVGSVGElement);
  const ruler = byId('ruler', SVGSVGElement);
  const words = byId('stroke-words', HTMLElement);
  const advice = byId('advice', HTMLUListElement);

  model.onDraw(({ question }, before) => {
    if (!question || question === before.question) return;
    drawFace(face, question.stroke);
    drawRuler(ruler, question.stroke);
    words.textContent = question.stroke.words;
    advice.replaceChildren(...question.advice.map((text) => html('li', '', text)));
  });
}
