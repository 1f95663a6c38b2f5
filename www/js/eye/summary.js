// The round beside the table: how many are answered, the marks, and at the end bias and spread.

import { byId, hide, html, put } from '../dom.js';
import { svg } from '../table/svg.js';
import { FROM_LOG } from './words.js';

/** @import { EyeSummary } from '../engine/protocol.js' */
/** @import { Answer, Model } from './state.js' */

/** The strip of a kind reaches over so many errors that halve a mark, to each side. */
const REACH = 3;
const WIDE = 100;

/** @param {number} error @param {number} half */
const across = (error, half) => WIDE / 2 + (Math.max(-1, Math.min(1, error / (REACH * half))) * WIDE) / 2;

/** Every error as a tick, the bias as a longer one. @param {EyeSummary} kind @param {readonly Answer[]} answers */
function strip({ estimate, bias, half }, answers) {
  const errors = answers.filter((one) => one.estimate === estimate).map(({ error }) => `M${across(error, half)} 4V10`);
  return svg('svg', { class: 'eye-strip', viewBox: `0 0 ${WIDE} 14`, preserveAspectRatio: 'none', 'aria-hidden': 'true' },
    svg('path', { class: 'margin-base', d: `M0 7H${WIDE}M${WIDE / 2} 1V13` }),
    svg('path', { class: 'eye-errors', d: errors.join('') }),
    svg('path', { class: 'eye-bias', d: `M${across(bias, half)} 1V13` }));
}

/** @param {Model} model */
export function createSummary(model) {
  const [mark, of, progress] = ['mark', 'of', 'progress'].map((id) => byId(`eye-${id}`, HTMLElement));
  const [part, panel] = [byId('eye', HTMLElement), byId('eye-grade', HTMLElement)];
  const lines = byId('eye-lines', HTMLUListElement);
  model.onDraw((state, before) => {
    const { answers, summary, result, question, again } = state;
    const shown = summary ? summary.mark : result && Math.round(result.mark);
    hide(panel, shown === null);
    part.classList.toggle('played', shown !== null);
    put(mark, shown === null ? '' : String(shown));
    put(of, shown === null ? '' : 'of 100');
    put(progress, again ? FROM_LOG : question ? `${answers.length} of ${question.round} answered` : '');
    if (summary === before.summary) return;
    lines.replaceChildren(...(summary?.kinds ?? []).map((kind) =>
      html('li', { class: 'line' }, html('span', { class: 'label' }, kind.title), strip(kind, answers), html('span', { class: 'value' }, kind.words))));
  });
}
