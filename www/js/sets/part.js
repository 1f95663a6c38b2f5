// Puts Sets together.

import { byId, button, hide, html, onClick, option } from '../dom.js';
import { TODAY } from '../links.js';
import { createModel } from '../state.js';
import { listenToLetters } from '../panels/letters.js';
import { createTitle } from '../panels/title.js';
import { createItemDialog, createSetDialog } from './dialogs.js';
import { createDrawing } from './drawing.js';
import { createFileDialog } from './files.js';
import { createList } from './list.js';
import { createSendDialog } from './send.js';
import { createSession } from './session.js';
import { createShow } from './show.js';
import { EMPTY, entriesOf, isOwn, marksOf, moved, openSet, redone, removed, turned, undone } from './state.js';
import { cells, hint, nameOf, passInWords } from './words.js';

export { createBlock } from './block.js';

/** @import { Page } from '../main.js' */
/** @import { Part } from '../parts.js' */
/** @import { Model } from './state.js' */

/** What the choice of the set does beside opening one. */
const NEW = 'new';
const COPY = 'copy';
const DAILY = 'daily';
const TODAYS = 'Today’s set';

/** @param {string} day As in 2026-11-20. */
const dated = (day) => new Date(day).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' });

/** The choice of the set in the page's head. @param {Model} model @param {{ see(id: string): void, fresh(): void, copy(): void, today(): void }} does */
function createSetChoice(model, does) {
  const select = byId('sets-set', HTMLSelectElement);
  select.addEventListener('change', () => {
    const wanted = select.value;
    select.value = model.state.open ?? '';
    if (wanted === NEW) does.fresh();
    else if (wanted === COPY) does.copy();
    else if (wanted === DAILY) does.today();
    else does.see(wanted);
  });
  model.onDraw((state, before) => {
    if (state.own === before.own && state.ready === before.ready && state.open === before.open) return;
    const group = (/** @type {string} */ label, /** @type {HTMLOptionElement[]} */ options) => (options.length > 0 ? [html('optgroup', { label }, ...options)] : []);
    const lent = (/** @type {string} */ title) => (state.open !== null && state.lent && !state.ready.some(({ id }) => id === state.open) ? [option(state.open, title)] : []);
    // Days begin at midnight UTC. A phone has no room for more than the date.
    const isToday = state.daily?.day === new Date().toISOString().slice(0, 10);
    const ofDay = state.daily && !isToday ? lent(dated(state.daily.day)) : [];
    select.replaceChildren(
      ...group('Day by day', [...ofDay, ...(isToday ? lent(TODAYS) : [option(DAILY, TODAYS)])]),
      ...group('From a link', state.daily ? [] : lent(state.lent?.title ?? '')),
      ...group('Yours', state.own.map(({ id, set }) => option(id, set.title || 'Set without a title'))),
      ...group('Ready-made', state.ready.map(({ id, title }) => option(id, title))),
      ...group('More', [option(NEW, 'New set…'), option(COPY, 'Copy this set to edit it')]),
    );
    select.value = state.open ?? '';
  });
}

/** @param {Page} page @returns {Part} */
export function createPart(page) {
  const { parts, voice } = page;
  const model = createModel(EMPTY);
  const isOpen = () => parts.isOpen('sets');
  const announce = (/** @type {string} */ sentence) => isOpen() && voice.announce(sentence);
  const session = createSession(model, page);
  const draw = createDrawing(byId('sets-table', SVGSVGElement), 'sets-drawing', model.schedule);
  const list = createList(model, () => void session.practise(), announce);
  const [name, pass, note] = ['sets-name', 'sets-pass', 'sets-note'].map((id) => byId(id, HTMLElement));
  const part = byId('sets', HTMLElement);
  createTitle('sets', model, { hint, asks: () => false, cells });

  const itemWords = createItemDialog(model);
  const setWords = createSetDialog(model, session);
  createSetChoice(model, { see: (id) => void session.see(id), fresh: () => setWords(true), copy: session.copy, today: () => void session.today() });
  const openFile = createFileDialog(session, isOpen);
  const send = createSendDialog(model, session);
  const show = createShow(model, voice.announce);

  const own = (/** @type {() => void} */ act) => () => {
    if (isOwn(model.state)) act();
    else announce('This set is ready-made: copy it first, in the choice of sets.');
  };
  const filled = (/** @type {() => void} */ act) => () => entriesOf(model.state).length > 0 && act();
  const does = {
    take: () => void session.begin(),
    daily: () => parts.visit(TODAY),
    item: () => void session.practise(),
    class: () => void show(),
    file: openFile,
    share: send,
    undo: () => model.change(undone),
    redo: () => model.change(redone),
    up: own(() => model.change(moved, model.state.chosen, model.state.chosen - 1)),
    down: own(() => model.change(moved, model.state.chosen, model.state.chosen + 1)),
    remove: own(() => model.change(removed)),
    type: own(filled(itemWords)),
    task: own(() => setWords(false)),
    reveal: filled(() => model.change(turned)),
  };
  for (const [id, act] of Object.entries(does)) onClick(`sets-${id}`, act);
  const { take: p, class: f, file: o, share: s, type: t, task: q, reveal: r } = does;
  listenToLetters(() => isOpen() && !document.querySelector('dialog[open]'), { p, f, o, s, t, q, r }, does);

  model.onDraw((state, before) => {
    const open = openSet(state);
    const entries = entriesOf(state);
    const chosen = list(state);
    name.textContent = open?.title || 'Set without a title';
    pass.textContent = open ? passInWords(open) : '';
    const entry = entries[state.chosen];
    const covered = entry && (entry.note || state.shown?.meant) ? 'Note and path are covered until you reveal them.' : '';
    const without = state.shown?.meant ? 'There is no note.' : 'There is neither a note nor a path.';
    note.textContent = !entry ? (open?.note ?? '') : state.revealed ? entry.note || without : [open?.note, covered].filter(Boolean).join('\n');
    part.classList.toggle('revealed', state.revealed);
    draw(state.shown, state.revealed);
    // The chosen item is in view, also where the list scrolls or has given way to a note.
    if ((state.chosen !== before.chosen || state.revealed !== before.revealed) && chosen) chosen.scrollIntoView({ block: 'nearest' });

    const { tally } = state;
    const under = marksOf(state);
    button('sets-take').textContent = under && tally ? (tally.isOver ? 'Again' : 'Go on') : 'Start';
    for (const id of ['take', 'item', 'class', 'reveal']) button(`sets-${id}`).disabled = entries.length === 0;
    button('sets-reveal').setAttribute('aria-pressed', String(state.revealed));
    // What is ready-made stays as it is, and has no tools but the way back to what was open.
    const mine = isOwn(state);
    for (const id of ['up', 'down', 'remove', 'type', 'task']) hide(button(`sets-${id}`), !mine);
    for (const id of ['undo', 'redo']) hide(button(`sets-${id}`), !mine && state.past.length + state.future.length === 0);
    for (const id of ['remove', 'type']) button(`sets-${id}`).disabled = entries.length === 0;
    button('sets-up').disabled = state.chosen === 0;
    button('sets-down').disabled = state.chosen >= entries.length - 1;
    button('sets-undo').disabled = state.past.length === 0;
    button('sets-redo').disabled = state.future.length === 0;
  });
  model.onChange((state, before) => {
    if (state.open !== before.open && openSet(state)) announce(`${openSet(state)?.title}. ${passInWords(/** @type {any} */ (openSet(state)))}`);
    else if (state.revealed && !before.revealed) announce(entriesOf(state)[state.chosen]?.note || 'The path is shown.');
    else if (state.chosen !== before.chosen) announce(nameOf(state, state.chosen));
  });
  return { open: session.open };
}
