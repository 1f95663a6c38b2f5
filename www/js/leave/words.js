// What Leave says: in the line under the table, in the lines of the grade, and to a screen reader.

import { told } from '../round/narrate.js';
import { shownZone } from '../stroke/state.js';
import { zoneInWords } from '../table/zone.js';
import { isBlank } from './state.js';
import { shownVerdict } from './verdict.js';

/** @import { Line } from '../panels/lines.js' */
/** @import { State } from './state.js' */

/** What to do next, or what the answer got wrong. @param {State} state */
export function hint(state) {
  const { phase, question, points, draft, selected, sealed, dealing, mode, zoning, practised } = state;
  if (dealing) return 'Setting up the table…';
  if (!question) return phase === 'stuck' ? '' : 'Setting up the table…';
  if (phase === 'playing' || phase === 'asking') return 'The shot runs, then the hand plays it 256 times.';
  if (phase === 'played') return shownVerdict(state)?.sentence ?? '';
  if (zoning) return `${zoneInWords(zoning, question.table, 10)}.`;
  if (mode === 'path') {
    if (draft) return draft.point.words;
    if (selected !== null) return `Chosen: ${points[selected].words}. The next point goes behind it.`;
    const last = points.at(-1);
    if (!last) return 'If you like, call the path too: tap each cushion it meets, then the stop.';
    return last.rail ? `${last.words}. Go on to where it stops.` : `Stops at ${last.words}.`;
  }
  const zone = shownZone(state);
  if (isBlank(state) || !zone) {
    const where = `${question.task.replace(/\.$/, '')}. Drag on the cloth to draw your zone, set tip and speed, then Play.`;
    return sealed === null ? where : `${where} The sender’s zone comes after yours.`;
  }
  const how = practised ? '' : ' Drag it to move it, its edge to size it, its knob to turn it.';
  return `${zoneInWords(zone, question.table, 10)}.${how}`;
}

const percent = (/** @type {number} */ share) => Math.round(100 * share);

/** @param {string} id @param {string} label @param {number} share @param {string} spoken @returns {Line} */
const shareLine = (id, label, share, spoken) => ({ id, label, text: `${percent(share)} %`, spoken: `${percent(share)} per cent ${spoken}` });

/** The zone, what it is worth, and the path that was called. @param {State} state @returns {Line[]} */
export function linesOf(state) {
  const verdict = shownVerdict(state);
  if (!verdict || !state.question) return [];
  const { zone, worth, grade } = verdict;
  const { next, rails } = state.question.item.demand;
  const whose = state.shown === 'sender' ? 'the sender’s zone' : 'your zone';
  const [potted, pot] = rails?.length ? ['potted off the rails asked', 'meet the rails asked and pot the ball'] : ['potted, no scratch', 'pot the ball'];
  return [
    shareLine('held', `in ${whose}`, zone.share, `of the strokes stop in ${whose}`),
    shareLine('gives', potted, zone.gives, `of the strokes ${pot} without a scratch`),
    ...(zone.scratches > 0 ? [shareLine('scratch', 'scratches', zone.scratches, 'of the strokes scratch')] : []),
    ...(worth ? [
      shareLine('worth', `the ${next} from ${whose}`, worth.zone, `chance of the ${next} from ${whose}`),
      shareLine('both', `potted, then the ${next}`, worth.both, `chance of this shot and the ${next} after it`),
    ] : []),
    ...(grade ? [
      { id: 'path', label: 'called path', text: `${Math.round(grade.mark)} of 100`, spoken: `${Math.round(grade.mark)} of 100` },
      ...grade.lines,
    ] : []),
  ];
}

/** @param {State} state */
export function layout({ question, zone, trial, points, sealed }) {
  if (!question) return '';
  const { task, balls, advice, table } = question;
  const marked = zone ? [zoneInWords(zone, table)] : [];
  const called = points.length ? [`Your path so far: ${points.map(({ words }) => words).join('; then ')}`] : [];
  const sender = sealed === null ? [] : ['The sender’s zone is shown after yours was played'];
  return told([task, ...balls.map(({ words }) => words), ...(trial ? [trial.stroke.words] : []), ...advice, ...marked, ...called, ...sender]);
}

/** @param {State} state */
export function verdict(state) {
  const shown = shownVerdict(state);
  if (!shown) return '';
  const spoken = linesOf(state).map(({ label, spoken: words }) => `${label}: ${words}`).join('. ');
  const other = state.shown === 'own' && state.result?.sender ? ` The sender's zone: ${Math.round(state.result.sender.zone.mark)} of 100.` : '';
  return `Zone: ${Math.round(shown.zone.mark)} of 100. ${spoken}. ${shown.sentence}${other}`;
}

/** What changed of an answer, beside its path. @param {State} state @param {State} before */
export function change(state, before) {
  const { zone, question } = state;
  if (zone !== before.zone) return zone && question ? `${zoneInWords(zone, question.table)}.` : 'No zone.';
  if (state.mode !== before.mode) return state.mode === 'zone' ? 'The zone.' : 'The path.';
  if (state.exact !== before.exact) return state.exact ? 'Played exactly.' : 'Played by the hand.';
  return '';
}
