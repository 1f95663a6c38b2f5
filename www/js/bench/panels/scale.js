// The legend of the map, and the chance whose line is drawn on it.

import { byId } from '../../dom.js';
import { drawScale } from '../../table/heat.js';
import { shownItem } from '../state.js';

/** @import { Session } from '../session.js' */
/** @import { Model } from '../state.js' */

/** @param {Model} model @param {Session} session */
export function createScale(model, session) {
  const panel = byId('bench-scale', HTMLElement);
  const level = byId('bench-level', HTMLInputElement);
  const [of, said] = ['bench-scale-of', 'bench-level-said'].map((id) => byId(id, HTMLElement));
  drawScale(byId('bench-legend', SVGSVGElement));
  level.addEventListener('input', () => session.set({ level: Number(level.value) / 100 }));

  model.onDraw((state) => {
    panel.hidden = !state.mapped;
    const { next, on } = shownItem(state)?.demand ?? {};
    of.textContent = `chance on the ${next ?? on ?? ''}`;
    said.textContent = `${Math.round(100 * state.level)}`;
  });
}
