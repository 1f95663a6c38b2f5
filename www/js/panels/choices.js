// The lists in the page's head and beside the stroke: levels, hands.

import { byId, option } from '../dom.js';

/** @import { HandInfo, LevelInfo } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */

/** A new level is dealt at once. @typedef {{ level(): number, levels(): LevelInfo[], setLevel(wanted: number): void }} Levels */

/** @template {{ question: unknown }} S @param {string} id @param {ModelOf<S>} model @param {Levels} session */
export function createLevelChoice(id, model, session) {
  const select = byId(id, HTMLSelectElement);
  select.addEventListener('change', () => void session.setLevel(Number(select.value)));

  model.onDraw(({ question }, before) => {
    if (question === before.question) return;
    if (select.options.length === 0) {
      select.append(...session.levels().map(({ level, name, words }) => option(String(level), `${level} · ${name}`, words)));
    }
    select.value = String(session.level());
    select.title = select.selectedOptions[0]?.title ?? '';
  });
}

/**
 * @template {{ hand: string }} S @param {string} id @param {ModelOf<S>} model
 * @param {{ hands(): readonly HandInfo[], choose(hand: string): void, isLive(state: S): boolean }} of
 */
export function createHandChoice(id, model, { hands, choose, isLive }) {
  const select = byId(id, HTMLSelectElement);
  select.addEventListener('change', () => choose(select.value));

  model.onDraw((state) => {
    select.disabled = !isLive(state);
    if (select.options.length === 0) select.append(...hands().map(({ id: value, name, words }) => option(value, name, words)));
    if (select.value !== state.hand) select.value = state.hand;
  });
}
