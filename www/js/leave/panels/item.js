// Leave's title block, and the line that says what to do next or what the answer got wrong.

import { byId } from '../../dom.js';
import { zoneInWords } from '../../table/zone.js';
import { shownVerdict } from '../verdict.js';
import { isBlank, shownZone } from '../state.js';

/** @import { Model, State } from '../state.js' */

/** @param {State} state */
function hint(state) {
  const { phase, question, points, draft, selected, sealed, dealing, mode, zoning, practised } = state;
  if (dealing) return 'Setting up the table…';
  if (!question) return phase === 'stuck' ? '' : 'Setting up the table…';
  if (phase === 'playing' || phase === 'asking') return 'The shot runs, then the hand plays it 256 times.';
  if (phase === 'played') return shownVerdict(state)?.sentence ?? '';
  if (zoning) return `${zoneInWords(zoning, question.table)}.`;
  if (mode === 'path') {
    if (draft) return draft.point.words;
    if (selected !== null) return `Chosen: ${points[selected].words}. The next point goes behind it.`;
    const last = points.at(-1);
    if (!last) return 'If you like, call the path too: tap each cushion it meets, then the stop.';
    return last.rail ? `${last.words}. Go on to where it stops.` : `Stops at ${last.words}.`;
  }
  const zone = shownZone(state);
  if (isBlank(state) || !zone) {
    const where = `${question.task.replace(/\.$/, '')}: drag the zone, set tip and speed, play.`;
    return sealed === null ? where : `${where} The sender’s zone comes after yours.`;
  }
  const how = practised ? '' : ' Drag it, its ends, its arm.';
  return `${zoneInWords(zone, question.table)}.${how}`;
}

/** @param {string} text */
const sentence = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param {Model} model */
export function createItemPanel(model) {
  const line = byId('leave-hint', HTMLElement);
  const cells = ['task', 'level', 'deal', 'card', 'model'].map((name) => byId(`leave-title-${name}`, HTMLElement));

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
