// Turns what happened in Leave into what a screen reader hears.

import { zoneInWords } from '../../table/zone.js';
import { shownVerdict } from '../verdict.js';
import { linesOf } from './grade.js';

/** @import { Model, State } from '../state.js' */

/** @param {State} state */
function layout({ question, zone, trial, points, sealed }) {
  if (!question) return '';
  const { task, balls, advice, table } = question;
  const marked = zone ? [zoneInWords(zone, table)] : [];
  const called = points.length ? [`Your path so far: ${points.map(({ words }) => words).join('; then ')}`] : [];
  const sender = sealed === null ? [] : ['The sender’s zone is shown after yours was played'];
  return [task, ...balls.map(({ words }) => words), ...(trial ? [trial.stroke.words] : []), ...advice, ...marked, ...called, ...sender]
    .map((sentence) => sentence.replace(/\.$/, ''))
    .join('. ')
    .concat('.');
}

/** @param {State} state @param {State} before */
function pathChange({ points }, { points: old }) {
  const count = points.length;
  const at = points.findIndex((point, index) => point !== old[index]);
  if (count < old.length) return count ? `${count} ${count === 1 ? 'point is' : 'points are'} left.` : 'No path is called.';
  if (at < 0) return '';
  return `${at === count - 1 && !points[at].rail ? 'Stop' : `Point ${at + 1}`}: ${points[at].words}.`;
}

/** @param {State} state */
function verdict(state) {
  const shown = shownVerdict(state);
  if (!shown) return '';
  const spoken = linesOf(state).map(({ label, spoken: words }) => `${label}: ${words}`).join('. ');
  const other = state.shown === 'own' && state.result?.sender ? ` The sender's zone: ${Math.round(state.result.sender.zone.mark)} of 100.` : '';
  return `Zone: ${Math.round(shown.zone.mark)} of 100. ${spoken}. ${shown.sentence}${other}`;
}

/** @param {Model} model @param {(sentence: string) => void} announce */
export function narrate(model, announce) {
  model.onChange((state, before) => {
    if (state.question !== before.question) announce(layout(state));
    else if (state.phase === 'played' && (before.phase !== 'played' || state.shown !== before.shown)) announce(verdict(state));
    else if (state.phase === 'playing' && before.phase !== 'playing') announce('Playing.');
    else if (state.zone !== before.zone) announce(state.zone && state.question ? `${zoneInWords(state.zone, state.question.table)}.` : 'No zone.');
    else if (state.points !== before.points) announce(pathChange(state, before));
    else if (state.mode !== before.mode) announce(state.mode === 'zone' ? 'The zone.' : 'The path.');
    else if (state.exact !== before.exact) announce(state.exact ? 'Played exactly.' : 'Played by the hand.');
  });
}
