// What stands beside the table but the stroke: the run, the plan, and the ways on from here.

import { byId, hide, html, put } from '../dom.js';
import { createLines } from '../panels/lines.js';
import { isOver, taken } from './state.js';
import { chanceInWords, nextOf, ownInWords, planInWords, planLines, pointedAt, runLines, wayLines, waysOf } from './words.js';

/** @import { Line } from '../panels/lines.js' */
/** @import { Model, State } from './state.js' */

/** @param {Model} model @param {string} id @param {'shot' | 'step' | 'way'} kind @param {(state: State) => readonly Line[]} linesOf */
function linesIn(model, id, kind, linesOf) {
  const list = byId(`clear-${id}`, HTMLUListElement);
  const show = createLines(list, model, () => linesOf(model.state));
  return { list, show: () => show(pointedAt(model.state.line, kind) === null ? null : model.state.line) };
}

/** @param {Model} model */
export function createLists(model) {
  const part = byId('clear', HTMLElement);
  const [run, plan, now] = ['run', 'plan', 'now'].map((id) => byId(`clear-${id}`, HTMLElement));
  const [chance, sure, found, looking, own, key, seconds] = ['chance', 'sure', 'found', 'looking', 'own', 'key', 'seconds'].map((id) => byId(`clear-${id}`, HTMLElement));
  const shots = linesIn(model, 'shots', 'shot', runLines);
  const steps = linesIn(model, 'steps', 'step', planLines);
  const ways = linesIn(model, 'ways', 'way', wayLines);

  // A later shot of the plan can only be looked at: it is played from where the cue ball is not yet.
  for (const [{ list }, kind, takable] of /** @type {const} */ ([[steps, 'step', nextOf], [ways, 'way', waysOf]])) {
    const take = (/** @type {string | null} */ line) => {
      const choice = takable(model.state)[pointedAt(line, kind) ?? -1];
      if (choice) model.change(taken, choice);
    };
    list.addEventListener('click', ({ target }) => take((target instanceof Element && target.closest('li')?.getAttribute('data-key')) || null));
    list.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter' && event.key !== ' ') return;
      event.preventDefault();
      take(model.state.line);
    });
  }

  model.onDraw((state, before) => {
    const over = isOver(state);
    const panel = over ? 'shot' : state.panel;
    part.classList.toggle('reading', panel !== 'shot');
    part.classList.toggle('over', over && state.phase === 'played');
    hide(run, panel !== 'shot' || state.shots.length === 0);
    hide(plan, panel !== 'plan');
    hide(now, panel !== 'now');
    if (!run.hidden) shots.show();
    if (state.shots.length > before.shots.length) run.scrollTop = run.scrollHeight;
    if (!plan.hidden) {
      const at = pointedAt(state.line, 'step') ?? 0;
      [chance.textContent, sure.textContent] = chanceInWords(state);
      put(found, planInWords(state));
      put(own, ownInWords(state));
      steps.show();
      put(key, state.plan?.key ?? '');
      const step = state.plan?.shots[at];
      const told = [...(step?.breaks ? [step.breaks] : []), ...(step?.seconds ?? []).map(({ words }, k) => `${k + 1} · ${words}`)];
      seconds.replaceChildren(...told.map((words) => html('li', {}, words)));
    }
    if (!now.hidden) {
      put(looking, state.plan ? 'Take one over: it becomes the shot at hand.' : planInWords(state));
      ways.show();
    }
    // The keyboard goes where what it asked for is.
    const opened = panel !== before.panel && panel !== 'shot' && document.activeElement?.closest('.actions');
    if (opened) (panel === 'plan' ? steps : ways).list.focus();
  });
}
