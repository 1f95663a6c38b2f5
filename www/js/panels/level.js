// The choice of a part's level; a new choice is dealt at once.

import { byId, html } from '../dom.js';

/** @import { LevelInfo } from '../engine/protocol.js' */
/** @import { ModelOf } from '../model.js' */

/** @typedef {{ readonly level: number, readonly levels: LevelInfo[], setLevel(wanted: number): void }} Levels */

/** @template {{ question: unknown }} S @param {string} id @param {ModelOf<S>} model @param {Levels} session */
export function createLevelChoice(id, model, session) {
  const select = byId(id, HTMLSelectElement);
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
