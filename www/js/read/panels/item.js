// The title block, and the line that says what to do next or what the call got wrong.

import { byId } from '../../dom.js';
import { isBlank } from '../state.js';
import { shownGrade } from '../outcome.js';

/** @import { Model, State } from '../state.js' */

/** @param {State} state */
function hint(state) {
  const { phase, question, points, draft, selected, sealed, dealing } = state;
  if (dealing) return 'Setting up the table…';
  if (!question) return phase === 'stuck' ? '' : 'Setting up the table…';
  if (phase === 'playing' || phase === 'asking') return 'The shot runs over your call.';
  if (phase === 'played') return shownGrade(state)?.sentence ?? '';
  // Who is new here keeps the question in view while the mouse looks around.
  if (draft && !(isBlank(state) && !state.practised)) return draft.point.words;
  const last = points.at(-1);
  if (!last) {
    const where = `Tap the path of the cue ball off the ${question.aim.first}: each cushion it meets, then where it stops.`;
    return sealed === null ? where : `${where} The sender’s call is shown after yours.`;
  }
  if (selected !== null) return `Chosen: ${points[selected].words}. The next point goes behind it.`;
  if (last.rail) return `${last.words}. Go on to where it stops.`;
  return `Stops at ${last.words}. Play, go on, or drag any point or line.`;
}

/** @param {string} text */
const sentence = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param {Model} model */
export function createItemPanel(model) {
  const line = byId('hint', HTMLElement);
  const cells = ['task', 'level', 'deal', 'card', 'model'].map((name) => byId(`title-${name}`, HTMLElement));

  model.onDraw((state, before) => {
    line.textContent = sentence(hint(state));
    line.classList.toggle('asks', isBlank(state));
    const { question } = state;
    if (!question || question === before.question) return;
    const { task, level, deal, card, model: version } = question;
    const texts = [task, `${level.level} · ${level.name}`, deal ?? 'by link', card, String(version)];
    cells.forEach((cell, k) => (cell.textContent = texts[k]));
  });
}
