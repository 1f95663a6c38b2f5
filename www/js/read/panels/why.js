// Why: the shot again with one thing changed. One choice at a time is drawn beside the real path.

import { button, byId, html, onClick } from '../../dom.js';
import { sentenceFor } from '../../sentences.js';
import { sync } from '../../table/sync.js';
import { drawReplay } from '../why.js';

/** @import { Engine } from '../../engine/client.js' */
/** @import { Replay, Why } from '../../engine/protocol.js' */
/** @import { Model } from '../state.js' */
/** @import { View } from '../view.js' */
/** @import { Voice } from '../../panels/say.js' */

/** @param {Replay} replay */
function makeChoice({ id, label, text }) {
  const item = html('li', 'line');
  item.id = `why-${id}`;
  item.setAttribute('role', 'option');
  item.append(html('span', 'label', label), html('span', 'value', text));
  return item;
}

/** @param {Model} model @param {Engine} engine @param {View} view @param {Voice} voice @param {SVGSVGElement} table */
export function createWhyPanel(model, engine, view, voice, table) {
  const toggle = button('why');
  const panel = byId('why-panel', HTMLElement);
  const list = byId('why-list', HTMLUListElement);
  const facts = byId('why-facts', HTMLUListElement);
  const hint = byId('hint', HTMLElement);
  /** @type {Why | null} */
  let why = null;
  /** @type {string | null} */
  let chosen = null;
  let open = false;

  /** @param {string | null} id */
  function choose(id) {
    chosen = id;
    const replay = why?.replays.find((one) => one.id === id);
    if (replay) voice.announce(`${replay.label}: ${replay.text}. ${replay.sentence}`);
    model.schedule();
  }

  async function turn() {
    const { question, phase } = model.state;
    if (phase !== 'played' || !question) return;
    open = !open;
    if (!open || why) return show();
    try {
      const reply = await engine.ask('why', { item: question.item });
      if (model.state.question !== question) return;
      why = reply;
      show();
    } catch (error) {
      open = false;
      voice.say(sentenceFor(error));
    }
  }

  function show() {
    choose(open ? (why?.replays[0]?.id ?? null) : null);
    model.flush();
    (open ? list : toggle).focus();
  }

  const idOf = (/** @type {Event} */ { target }) =>
    (target instanceof Element && target.closest('li')?.getAttribute('data-key')) || null;

  onClick('why', () => void turn());
  list.addEventListener('click', (event) => {
    const id = idOf(event);
    if (id) choose(id);
  });
  list.addEventListener('keydown', (event) => {
    const all = why?.replays ?? [];
    const at = all.findIndex(({ id }) => id === chosen);
    const next = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: all.length - 1 }[event.key];
    if (next === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    if (all[next]) choose(all[next].id);
  });
  model.onChange(({ phase, question }, before) => {
    if (question !== before.question) why = null;
    if (phase !== 'played' || question !== before.question) [open, chosen] = [false, null];
  });

  model.onDraw(({ phase, question }) => {
    const shown = open && why !== null && phase === 'played';
    toggle.setAttribute('aria-pressed', String(shown));
    toggle.hidden = phase !== 'played';
    panel.hidden = !shown;
    document.body.classList.toggle('explained', shown);
    const replay = (shown && why?.replays.find(({ id }) => id === chosen)) || null;
    if (question && view.frame) drawReplay(table, replay, question, view.frame);
    if (!shown || !why) return;
    sync(list, why.replays, ({ id }) => id, makeChoice, (item, { id, text, differs }) => {
      item.setAttribute('aria-selected', String(id === chosen));
      item.classList.toggle('idle', !differs);
      item.children[1].textContent = text;
    });
    if (chosen) list.setAttribute('aria-activedescendant', `why-${chosen}`);
    facts.replaceChildren(...why.facts.map(({ label, text }) => {
      const item = html('li', 'line fact');
      item.append(html('span', 'label', label), html('span', 'value', text));
      return item;
    }));
    if (replay) hint.textContent = replay.sentence;
  });

  return turn;
}
