// A set before a class: item by item on the whole screen, note and path revealed on a tap or a key.

import { html } from '../dom.js';
import { svg } from '../table/svg.js';
import { createDrawing } from './drawing.js';
import { chose, entriesOf, openSet, turned } from './state.js';
import { nameOf, partOf } from './words.js';

/** @import { Model } from './state.js' */

/** @param {string} label @param {string} d */
const sign = (label, d) => html('button', { type: 'button', 'aria-label': label, title: label }, svg('svg', { viewBox: '0 0 24 24', 'aria-hidden': 'true' }, svg('path', { d })));

/** @param {Model} model @param {(sentence: string) => void} announce */
export function createShow(model, announce) {
  const table = svg('svg', { class: 'table', id: 'sets-show-table', role: 'group', 'aria-label': 'The table, drawn to scale' });
  const [count, name, task, words] = ['show-count', 'show-name', 'show-task', 'show-words'].map((kind) => html('p', { class: kind }));
  name.id = 'sets-show-name';
  const note = html('p', { class: 'show-note' });
  const [back, reveal, next, leave] = [sign('Back', 'm14 6-6 6 6 6'), html('button', { type: 'button' }, 'Reveal'), sign('Next', 'm10 6 6 6-6 6'), sign('Leave', 'm6 6 12 12M18 6 6 18')];
  const dialog = html('dialog', { class: 'show', id: 'sets-show', 'aria-labelledby': name.id },
    html('header', { class: 'show-head' }, count, name, back, reveal, next, leave),
    html('div', { class: 'show-stage' }, table),
    html('div', { class: 'show-foot', 'aria-live': 'polite' }, task, words, note));
  document.body.append(dialog);
  const draw = createDrawing(table, 'sets-show-drawing', model.schedule);

  const go = (/** @type {number} */ by) => model.change(chose, model.state.chosen + by);
  const turn = () => model.change(turned);
  back.addEventListener('click', () => go(-1));
  next.addEventListener('click', () => go(1));
  reveal.addEventListener('click', turn);
  table.addEventListener('click', turn);
  leave.addEventListener('click', () => dialog.close());
  dialog.addEventListener('keydown', (event) => {
    const { key, target } = event;
    // A button that has the keyboard does what it says.
    if ((key === ' ' || key === 'Enter') && target instanceof HTMLButtonElement) return;
    const act = { ArrowLeft: () => go(-1), ArrowRight: () => go(1), PageUp: () => go(-1), PageDown: () => go(1), ' ': turn, Enter: turn }[key];
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    act();
  });

  // Escape leaves the whole screen first, and with it the show.
  document.addEventListener('fullscreenchange', () => {
    if (dialog.open && !document.fullscreenElement) dialog.close();
    model.schedule();
  });
  dialog.addEventListener('close', () => {
    if (document.fullscreenElement) void document.exitFullscreen().catch(() => {});
    model.schedule();
  });

  model.onDraw((state, before) => {
    if (!dialog.open) return;
    const { shown, revealed, chosen } = state;
    const entries = entriesOf(state);
    const entry = entries[chosen];
    if (!entry) return;
    count.textContent = `${chosen + 1} of ${entries.length}`;
    name.textContent = openSet(state)?.title ?? '';
    task.textContent = `${partOf(state, chosen)}: ${entry.title ? `${entry.title}. ` : ''}${shown?.task ?? ''}`;
    words.textContent = shown?.given?.words ?? (revealed ? (shown?.meant?.words ?? '') : '');
    note.textContent = revealed ? entry.note : '';
    note.hidden = !revealed || entry.note === '';
    back.disabled = chosen === 0;
    next.disabled = chosen === entries.length - 1;
    reveal.textContent = revealed ? 'Cover' : 'Reveal';
    dialog.classList.toggle('revealed', revealed);
    draw(shown, revealed);
    if (chosen !== before.chosen) announce(`${count.textContent}. ${nameOf(state, chosen)}.`);
  });

  return async () => {
    if (entriesOf(model.state).length === 0 || dialog.open) return;
    try {
      // The whole page: browsers refuse a dialog. What opens later lies above it.
      await document.documentElement.requestFullscreen?.();
    } catch {
      // Where there is no such thing or it is refused, the dialog fills the window.
    }
    if (dialog.open) return;
    dialog.showModal();
    reveal.focus();
    model.schedule();
  };
}
