// Turns what happened into what a screen reader hears.

import { shownGrade } from '../outcome.js';

/** @import { Model, State } from '../state.js' */

/** @param {State} state */
function layout({ question, points, sealed }) {
  if (!question) return '';
  const { task, balls, stroke, advice } = question;
  const kept = points.length ? [`Your call so far: ${points.map(({ words }) => words).join('; then ')}`] : [];
  const sender = sealed === null ? [] : ['The sender’s call is shown after yours was played'];
  return [task, ...balls.map(({ words }) => words), stroke.words, ...advice, ...kept, ...sender]
    .map((sentence) => sentence.replace(/\.$/, ''))
    .join('. ')
    .concat('.');
}

/** @param {State} state @param {State} before */
function change({ points }, { points: old }) {
  const count = points.length;
  const at = points.findIndex((point, index) => point !== old[index]);
  if (count < old.length) return count ? `${count} ${count === 1 ? 'point is' : 'points are'} left.` : 'The call is empty.';
  if (at < 0) return '';
  const name = at === count - 1 && !points[at].rail ? 'Stop' : `Point ${at + 1}`;
  return `${name}: ${points[at].words}.`;
}

/** @param {State} state */
function verdict(state) {
  const grade = shownGrade(state);
  if (!grade) return '';
  const { mark, lines, sentence } = grade;
  const sender = state.result?.sender;
  const spoken = lines.map(({ label, spoken: words }) => `${label}: ${words}`).join('. ');
  const other = state.shown === 'own' && sender ? ` The sender's call: ${Math.round(sender.grade.mark)} of 100.` : '';
  return `${Math.round(mark)} of 100. ${spoken}. ${sentence}${other}`;
}

/** @param {Model} model @param {(sentence: string) => void} announce */
export function narrate(model, announce) {
  model.onChange((state, before) => {
    if (state.question !== before.question) announce(layout(state));
    else if (state.phase === 'played' && (before.phase !== 'played' || state.shown !== before.shown)) announce(verdict(state));
    else if (state.phase === 'playing' && before.phase !== 'playing') announce('Playing.');
    else if (state.points !== before.points) announce(change(state, before));
  });
}
