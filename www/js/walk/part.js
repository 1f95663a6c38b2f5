// The walk-through over an item of Read: a line under the table, beside which the player plays as always.

import { byId, html } from '../dom.js';
import { style } from '../styles.js';
import { isBlank } from '../read/state.js';
import { svg } from '../table/svg.js';
import { STEPS } from './steps.js';

/** @import { Model } from '../read/state.js' */
/** @import { WalkThrough } from './hook.js' */

/** What it needs of Read: its state, whether it is seen, and a fresh item. @typedef {{ model: Model, isOpen: () => boolean, deal: () => Promise<void> }} Around */

/** @param {WalkThrough} walkThrough @param {Around} around */
export async function createWalk(walkThrough, { model, isOpen, deal }) {
  await style('css/walk.css');
  const hint = byId('read-hint', HTMLElement);
  const said = html('p', { class: 'walk-said', role: 'status' });
  const next = html('button', { type: 'button' });
  const skip = html('button', { type: 'button', class: 'walk-skip', 'aria-label': 'Skip the walk-through', title: 'Skip the walk-through (Esc)' },
    svg('svg', { viewBox: '0 0 24 24', 'aria-hidden': 'true' }, svg('path', { d: 'm6 6 12 12M18 6 6 18' })));
  const line = html('div', { class: 'walk', id: 'walk', role: 'group', 'aria-label': 'Walk-through' }, said, next, skip);
  /** The step that is shown; none while it is only offered. @type {number | null} */
  let step = null;
  /** @type {Element | null} */
  let lit = null;
  /** Whether it begins with the next item that opens. */
  let waiting = false;

  function light(/** @type {string | undefined} */ id) {
    lit?.classList.remove('walked');
    lit = id ? byId(id, HTMLElement) : null;
    lit?.classList.add('walked');
  }

  /** The line takes the place of the hint, which stands in it. */
  function open() {
    if (line.isConnected) return;
    hint.replaceWith(line);
    line.prepend(hint);
  }

  function end() {
    if (!line.isConnected) return;
    const had = line.contains(document.activeElement);
    walkThrough.end();
    light(undefined);
    step = null;
    hint.hidden = false;
    hint.classList.remove('roomy');
    line.replaceWith(hint);
    if (!had) return;
    // The keyboard goes on where the player is to go on.
    const ghost = byId('read-table', SVGSVGElement).querySelector('[data-handle="ghost"]');
    if (model.state.phase === 'played') byId('read-deal', HTMLElement).focus();
    else if (ghost instanceof SVGElement) ghost.focus();
  }

  function show(/** @type {number} */ number) {
    step = number;
    const { words, keys, at, next: name } = STEPS[number];
    said.replaceChildren(words, ...(keys ? [' ', html('span', { class: 'by-keys' }, keys)] : []));
    const had = document.activeElement === next;
    next.hidden = name === undefined;
    next.textContent = name ?? '';
    if (had && name === undefined) skip.focus();
    light(at);
  }

  function go() {
    if (step === null) void begin();
    else if (step === STEPS.length - 1) end();
    else show(step + 1);
  }

  function offer() {
    open();
    said.textContent = '';
    hint.hidden = next.hidden = false;
    next.textContent = 'Show me';
  }

  async function begin() {
    // What is still being opened comes first.
    waiting = model.state.question === null;
    if (waiting) return;
    if (!isBlank(model.state)) await deal();
    open();
    hint.hidden = true;
    show(0);
  }

  next.addEventListener('click', go);
  skip.addEventListener('click', end);
  document.addEventListener('keydown', ({ key, target }) => {
    const elsewhere = target instanceof Element && target.closest('dialog');
    if (key === 'Escape' && isOpen() && !elsewhere) end();
  });
  model.onChange((state, before) => {
    if (waiting && state.question) return void begin();
    if (!line.isConnected) return;
    // Who plays without being shown needs no showing.
    if (step === null) return void (state.phase === 'played' && end());
    const anew = state.question !== before.question && step < STEPS.length - 1;
    if (anew && step > 0) show(0);
    while (step !== null && STEPS[step].over(state)) go();
  });
  return { offer, begin };
}

/** @typedef {Awaited<ReturnType<typeof createWalk>>} Walk */
