// The map of the chances on the next ball, while it is chosen beside the best stroke.

import { byId, hide } from '../dom.js';
import { set } from '../state.js';
import { sentenceFor } from '../sentences.js';
import { COLOURS, createHeat, drawScale } from '../table/chance-map.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Model } from './state.js' */

/** The choice that stands for the map. */
export const MAP = 'map';

/**
 * @param {SVGSVGElement} table @param {Model} model @param {readonly Engine[]} engines The first one draws.
 * @param {(sentence: string) => void} say
 */
export function createMap(table, model, engines, say) {
  const [scale, of] = ['leave-scale', 'leave-scale-of'].map((id) => byId(id, HTMLElement));
  const legend = byId('leave-legend', SVGSVGElement);
  let shown = false;

  /** @param {unknown} error */
  function failed(error) {
    show(false);
    say(sentenceFor(error));
  }
  const heatMap = createHeat(table, engines, (heat) => shown && model.change(set, { heat }), failed);

  /** @param {boolean} wanted */
  function show(wanted) {
    const { question, hand } = model.state;
    const next = question?.item.demand.next;
    if (wanted === shown || (wanted && !next)) return;
    shown = wanted;
    hide(scale, !shown);
    if (!shown || !question || !next) {
      heatMap.stop();
      return model.change(set, { heat: null });
    }
    engines[0].ask('mapScale', COLOURS).then((colours) => drawScale(legend, colours), failed);
    void heatMap.show({ item: question.item, ball: next, hand }, true);
  }

  model.onDraw(({ heat, question }, before) => {
    if (heat !== before.heat) of.textContent = `chance of potting the ${question?.item.demand.next}${heat?.rough ? ', rough' : ''}`;
  });

  return { show, place: heatMap.place };
}

/** @typedef {ReturnType<typeof createMap>} ChanceMap */
