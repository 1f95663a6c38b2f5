// Why: the shot again with one thing changed. One choice at a time is drawn beside the real path.

import { button, byId, hide, html, onClick } from '../dom.js';
import { drawReplay } from '../path/why.js';
import { sentenceFor } from '../sentences.js';
import { sync } from '../table/svg.js';

/** @import { Margins, Replay, Table } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Name } from '../parts.js' */
/** @import { Board } from '../table/sheet.js' */
/** @import { Voice } from './say.js' */

/**
 * What can be chosen, and what else is told: facts, the margins of the stroke, and those of the best. Some of it may
 * still be on its way.
 * @typedef {{ replays: readonly Choice[], facts: readonly { label: string, text: string }[], own?: Margins, best?: Margins }} Reasons
 */
/**
 * A choice without a path is not known yet.
 * @typedef {Pick<Replay, 'label' | 'text' | 'sentence' | 'differs' | 'path' | 'objectPath' | 'dimension'> & { id: string }} Choice
 */

/**
 * How a part explains what was played: it gives reasons as it finds them, until it is stopped.
 * @typedef {(give: (reasons: Reasons) => void, stop: AbortSignal) => Promise<void>} Explain
 */

/** @typedef {{ question: { table: Table } | null, phase: string }} Played */

/**
 * @template {Played} S
 * @param {Name} part
 * @param {ModelOf<S>} model @param {Explain} explain @param {Board} view @param {Voice} voice
 * @param {(reasons: Reasons | null, chosen: string | null) => void} [more] Shows what the part tells beside the list, or
 *   nothing any more.
 */
export function createWhyPanel(part, model, explain, view, voice, more) {
  const id = (/** @type {string} */ name) => `${part}-${name}`;
  const [block, table] = [byId(part, HTMLElement), byId(id('table'), SVGSVGElement)];
  const toggle = button(id('why'));
  const panel = byId(id('why-panel'), HTMLElement);
  const list = byId(id('why-list'), HTMLUListElement);
  const facts = byId(id('why-facts'), HTMLUListElement);
  const hint = byId(id('hint'), HTMLElement);
  /** @type {Reasons | null} */
  let why = null;
  /** @type {string | null} */
  let chosen = null;
  let open = false;
  let stop = new AbortController();

  const keyOf = (/** @type {string} */ name) => id(`why-${name}`);
  list.before(html('p', { class: 'caption', 'aria-hidden': 'true' }, list.getAttribute('aria-label') ?? ''));

  /** The choices that change something, or that do not. */
  const of = (/** @type {boolean} */ differing) => (why?.replays ?? []).filter(({ differs }) => differs === differing);
  const offered = () => of(true);

  /** @param {string} name */
  function makeChoice(name) {
    const item = html('li', { class: 'line' });
    item.id = keyOf(name);
    item.setAttribute('role', 'option');
    item.append(html('span', { class: 'label' }), html('span', { class: 'value' }));
    return item;
  }

  /** @param {string | null} name */
  function choose(name) {
    chosen = name;
    const replay = why?.replays.find((one) => one.id === name);
    if (replay) voice.announce(`${replay.label}: ${replay.text}. ${replay.sentence}`);
    model.schedule();
  }

  function show() {
    choose(open ? (offered().find(({ path }) => path.length > 0)?.id ?? null) : null);
    model.flush();
    (open ? list : toggle).focus();
  }

  async function turn() {
    const { question, phase } = model.state;
    if (phase !== 'played' || !question) return;
    open = !open;
    stop.abort();
    if (!open) return show();
    const mine = (stop = new AbortController());
    try {
      await explain((reasons) => {
        if (mine.signal.aborted) return;
        const first = why === null;
        why = reasons;
        if (first) show();
        else model.schedule();
      }, mine.signal);
    } catch (error) {
      if (mine.signal.aborted) return;
      open = why !== null;
      voice.say(sentenceFor(error));
      model.schedule();
    }
  }

  const idOf = (/** @type {Event} */ { target }) =>
    (target instanceof Element && target.closest('li')?.getAttribute('data-key')) || null;

  onClick(id('why'), () => void turn());
  list.addEventListener('click', (event) => {
    const name = idOf(event);
    if (name) choose(name);
  });
  list.addEventListener('keydown', (event) => {
    const all = offered();
    const at = all.findIndex((one) => one.id === chosen);
    const next = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: all.length - 1 }[event.key];
    if (next === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    if (all[next]) choose(all[next].id);
  });

  model.onChange(({ phase, question }, before) => {
    if (phase === 'played' && question === before.question) return;
    if (question !== before.question || before.phase === 'drawing') why = null;
    stop.abort();
    [open, chosen] = [false, null];
  });

  model.onDraw(({ phase, question }) => {
    const shown = open && why !== null && phase === 'played';
    toggle.setAttribute('aria-pressed', String(shown));
    hide(toggle, phase !== 'played');
    hide(panel, !shown);
    block.classList.toggle('explained', shown);
    const replay = (shown && why?.replays.find((one) => one.id === chosen)) || null;
    if (question && view.frame) drawReplay(table, replay?.path.length ? replay : null, question.table, view.frame);
    more?.(shown ? why : null, chosen);
    if (!shown || !why) return;
    sync(list, offered(), (one) => one.id, (one) => makeChoice(one.id), (item, one) => {
      item.setAttribute('aria-selected', String(one.id === chosen));
      [one.label, one.text].forEach((words, k) => (item.children[k].textContent = words));
    });
    if (chosen) list.setAttribute('aria-activedescendant', keyOf(chosen));
    else list.removeAttribute('aria-activedescendant');
    const same = of(false).map(({ label }) => label).join(', ');
    const told = [...(same ? [{ label: same, text: 'no difference' }] : []), ...why.facts];
    facts.replaceChildren(...told.map(({ label, text }) => {
      const item = html('li', { class: 'line fact' });
      item.append(html('span', { class: 'label' }, label), html('span', { class: 'value' }, text));
      return item;
    }));
    facts.hidden = told.length === 0;
    if (replay) hint.textContent = replay.sentence;
  });

  return turn;
}
