// What Eye says: in the line under the table, and to a screen reader.

import { told } from '../round/narrate.js';

/** @import { State } from './state.js' */

/** What stands for the number of an estimate that is shown again. */
export const FROM_LOG = 'From the Log';

/** @param {State} state */
export function hint({ phase, question, result, number, summary }) {
  if (phase === 'stuck') return '';
  if (!question || phase === 'waiting') return 'Setting up the table…';
  if (phase === 'over') return `The round is over: beside it, how far off you were on average. ${summary?.words ?? ''}`.trim();
  if (result) return result.words;
  return number === 0 ? `${question.task} Drag the blue ring there, then Answer.` : question.task;
}

/** What is heard when an estimate is asked. @param {State} state */
export function layout({ question, number, again }) {
  if (!question) return '';
  const { task, balls, stroke, handle, round } = question;
  return told([again ? FROM_LOG : `${number + 1} of ${round}`, task, ...balls.map(({ words }) => words), stroke.words, `The handle is at ${handle.words}`]);
}

/** What is heard when the round is over. @param {State} state */
export const verdict = ({ summary }) =>
  (summary ? told([`${summary.mark} of 100`, ...summary.kinds.map(({ title, words }) => `${title}: ${words}`), summary.words]) : '');
