// The legend of the map, and the chance whose line is drawn on it.

import { byId, hide, put } from '../../dom.js';
import { drawScale } from '../../table/chance-map.js';
import { shownItem } from '../state.js';

/** @import { Core } from '../core.js' */
/** @import { Session } from '../session.js' */
/** @import { Model } from '../state.js' */

/** @param {Model} model @param {Session} session @param {Core} core */
export function createScale(model, session, core) {
  const panel = byId('bench-scale', HTMLElement);
  const level = byId('bench-level', HTMLInputElement);
  const [of, said] = ['bench-scale-of', 'bench-level-said'].map((id) => byId(id, HTMLElement));
  const legend = byId('bench-legend', SVGSVGElement);
  level.addEventListener('input', () => session.set({ level: Number(level.value) / 100 }));

  model.onDraw(async (state, before) => {
    hide(panel, !state.mapped);
    const { next, on } = shownItem(state)?.demand ?? {};
    const into = state.mapPocket && ` in the ${state.mapPocket} pocket`;
    put(of, `chance of potting the ${next ?? on ?? ''}${into}${state.heat?.rough ? ', rough' : ''}`);
    put(said, `Line at ${Math.round(100 * state.level)} %`);
    if (state.mapped && !before.mapped) drawScale(legend, await core.colours());
  });
}
