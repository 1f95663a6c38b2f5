// What the Sets screen says.

import { entriesOf, isOwn, marksOf, openSet, takingOf, toldOf } from './state.js';

/** @import { ItemSet, Tally } from '../engine/protocol.js' */
/** @import { State } from './state.js' */

/** What counts as passed. @param {ItemSet} set */
export function passInWords({ pass: { mark, need }, entries }) {
  if (entries.length === 0) return '';
  const runs = entries.some(({ item }) => item.kind === 'clear');
  const others = entries.some(({ item }) => item.kind !== 'clear');
  const of = `${Math.min(need, entries.length)} of ${entries.length}`;
  if (!others) return `To pass: clear ${of}.`;
  return `To pass: ${mark} points or more${runs ? ', or a cleared run,' : ''} in ${of}.`;
}

/** The name of an item: its title, else what it asks. @param {State} state @param {number} at */
export const nameOf = (state, at) => entriesOf(state)[at]?.title || toldOf(state, at)?.task || 'Item';

const PARTS = { read: 'Read', leave: 'Leave', clear: 'Clear' };

/** @param {State} state @param {number} at */
export const partOf = (state, at) => PARTS[entriesOf(state)[at]?.item.kind ?? 'read'];

/** What came of an item, short. @param {State} state @param {number} at */
export function markOf(state, at) {
  const mark = marksOf(state)?.[at] ?? null;
  if (mark === null) return '';
  return typeof mark === 'number' ? String(Math.round(mark)) : mark ? 'cleared' : 'not cleared';
}

/** Marks that are there, 0 to 100 as they are shown. @param {State} state */
const playedOf = (state) => (marksOf(state) ?? []).flatMap((mark) => (mark === null ? [] : [typeof mark === 'number' ? Math.round(mark) : mark ? 100 : 0]));

/** How a taking stands; what is not played yet takes nothing from it. @param {State} state @param {Tally} tally */
function standing(state, { isOver, words, nPassed, need, passed }) {
  const marks = playedOf(state);
  if (isOver || marks.length === 0) return words;
  const mean = Math.round(marks.reduce((sum, mark) => sum + mark, 0) / marks.length);
  return `So far ${mean} of 100 in ${marks.length} of ${passed.length}: ${nPassed} passed, ${need} to pass.`;
}

/** @param {State} state */
export function hint(state) {
  const open = openSet(state);
  if (!open) return state.phase === 'stuck' ? '' : 'Looking for sets…';
  if (open.entries.length === 0) return 'No items yet: open one in any part, then Share, Add to a set.';
  const counts = takingOf(state) ? state.daily?.result?.words : '';
  if (state.tally && marksOf(state)) return [standing(state, state.tally), state.tally.against, counts].filter(Boolean).join(' ');
  const task = toldOf(state, state.chosen)?.task ?? '';
  return state.claimed === null ? task : `To beat: ${state.claimed} of 100, claimed by the sender. ${task}`;
}

/** What stands in the title block. @param {State} state */
export function cells(state) {
  const open = openSet(state);
  if (!open) return null;
  const { daily } = state;
  const best = daily ? daily.result : state.open === null ? undefined : state.best[state.open];
  const played = playedOf(state).length;
  return {
    task: open.title || 'Set without a title',
    items: String(open.entries.length),
    pass: open.entries.length === 0 ? '–' : `${open.pass.mark} in ${Math.min(open.pass.need, open.entries.length)} of ${open.entries.length}`,
    best: best ? `${best.score} of 100` : played > 0 ? `${played} of ${open.entries.length} played` : 'not taken yet',
    kind: isOwn(state) ? 'yours' : daily ? 'a day’s set' : 'ready-made',
  };
}
