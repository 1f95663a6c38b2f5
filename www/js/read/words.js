// What Read says: in the line under the table, and to a screen reader.

import { told } from '../round/narrate.js';
import { shownGrade } from './outcome.js';
import { invitation } from './sight.js';
import { isBlank } from './state.js';

/** @import { State } from './state.js' */

/** What to do next, or what the call got wrong. @param {State} state */
export function hint(state) {
  const { phase, question, points, draft, selected, sealed, dealing, loading } = state;
  if (dealing) return 'Setting up the table…';
  if (!question) return phase === 'stuck' ? '' : 'Setting up the table…';
  if (loading) return 'The shot is played as soon as its model is loaded.';
  if (phase === 'playing' || phase === 'asking') return 'The shot runs over your call.';
  if (phase === 'played') return shownGrade(state)?.sentence ?? '';
  // Who is new here keeps the question in view while the mouse looks around.
  if (draft && !(isBlank(state) && !state.practised)) return draft.point.words;
  const last = points.at(-1);
  if (!last) {
    const where = invitation(question);
    return sealed === null ? where : `${where} The sender’s call is shown after yours.`;
  }
  if (selected !== null) return `Chosen: ${points[selected].words}. The next point goes behind it.`;
  if (last.rail) return `${last.words}. Go on to where it stops.`;
  return `Stops at ${last.words}. Play, go on, or drag any point or line.`;
}

/** @param {State} state */
export function layout({ question, points, sealed }) {
  if (!question) return '';
  const { task, balls, stroke, advice } = question;
  const kept = points.length ? [`Your call so far: ${points.map(({ words }) => words).join('; then ')}`] : [];
  const sender = sealed === null ? [] : ['The sender’s call is shown after yours was played'];
  return told([task, ...balls.map(({ words }) => words), stroke.words, ...advice, ...kept, ...sender]);
}

/** @param {State} state */
export function verdict(state) {
  const grade = shownGrade(state);
  if (!grade) return '';
  const { mark, lines, sentence } = grade;
  const sender = state.result?.sender;
  const spoken = lines.map(({ label, spoken: words }) => `${label}: ${words}`).join('. ');
  const other = state.shown === 'own' && sender ? ` The sender's call: ${Math.round(sender.grade.mark)} of 100.` : '';
  return `${Math.round(mark)} of 100. ${spoken}. ${sentence}${other}`;
}
