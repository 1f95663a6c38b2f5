// The choice of the level; a new choice is dealt at once.

import { byId, html } from '../../dom.js';

/** @import { Model } from '../state.js' */
/** @import { Session } from '../session.js' */

/** @param {Model} model @param {Session} session */
export function createLevelChoice(model, session) {
  const select = byId('level', HTMLSelectElement);
  select.addEventListener('change', () => void session.setLevel(Number(select.value)));

  model.onDraw(({ question }, before) => {
    if (question === before.question) return;
    if (select.options.length === 0) {
      for (const { level, name, words } of session.levels) {
        const option = html('option', '', `${level} · ${name}`);
        option.value = String(level);
        option.title = words;
        select.append(option);
      }
    }
    select.value = String(session.level);
  });
}
