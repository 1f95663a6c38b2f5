// The title block, and the line that says what to do next or what came of it.

import { byId, put } from '../dom.js';

/** @import { ClearQuestion, LeaveQuestion, Question } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Name } from '../parts.js' */

/** @param {string} text */
const sentence = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** What the title block says of a dealt item. @param {ClearQuestion | LeaveQuestion | Question | null} question */
export const cellsOf = (question) => question && {
  task: question.task,
  level: `${question.level.level} · ${question.level.name}`,
  deal: question.deal ?? 'by link',
  card: question.card,
  model: String(question.model),
};

/**
 * @template S
 * @param {Name} name @param {ModelOf<S>} model
 * @param {{ hint(state: S): string, asks(state: S): boolean, cells(state: S): Record<string, string> | null }} of
 */
export function createTitle(name, model, { hint, asks, cells }) {
  const line = byId(`${name}-hint`, HTMLElement);
  model.onDraw((state) => {
    put(line, sentence(hint(state)));
    line.classList.toggle('asks', asks(state));
    for (const [id, text] of Object.entries(cells(state) ?? {})) put(byId(`${name}-title-${id}`, HTMLElement), text);
  });
}
