// The tray: balls put on the table and taken off, and places typed in diamonds.

import { html, option } from '../../dom.js';
import { answerLine, labelled, makeDialog, numberField, numberIn, press, row } from '../../panels/dialog.js';
import { sentenceFor } from '../../sentences.js';
import { sync } from '../../table/svg.js';
import { asking } from '../session.js';

/** @import { Core } from '../core.js' */
/** @import { Session } from '../session.js' */
/** @import { Model } from '../state.js' */

const ALL = Array.from({ length: 15 }, (_, k) => String(k + 1));

/** @param {Model} model @param {Session} session @param {Core} core */
export function createBallsDialog(model, session, core) {
  const tray = html('div', { class: 'tray-row', role: 'group', 'aria-label': 'Put on the table or take off' });
  const which = html('select', {}, ...['cue', ...ALL].map((id) => option(id, id === 'cue' ? 'cue ball' : `${id} ball`)));
  const [along, across] = [numberField({ required: '' }), numberField({ required: '' })];
  const said = answerLine();
  const form = html('form', { novalidate: '' },
    html('div', { class: 'fields' }, labelled('Ball', which), labelled('From the head, 0 to 8', along), labelled('From the right, 0 to 4', across)),
    said,
    row(press('Put there', undefined, { type: 'submit', class: 'action primary' }), press('Done', () => dialog.close())));
  const dialog = makeDialog('balls', 'Balls on the table', tray, form);

  const isThere = (/** @type {string} */ id) => model.state.item?.shot.balls.some((ball) => ball.id === id) ?? false;

  /** @param {string} id */
  async function toggle(id) {
    const { item, board } = model.state;
    if (!item || !board) return;
    const { length, width } = board.table;
    if (isThere(id)) {
      if (item.demand.on !== id) return session.commit((one) => core.remove(one, id));
      // The ball on leaves: another one takes its part.
      const other = item.demand.next ?? item.shot.balls.find((ball) => ball.id !== 'cue' && ball.id !== id)?.id;
      if (!other) return void (said.textContent = 'One ball to be potted stays on the table.');
      return session.commit((one) => core.remove(asking(one, { on: other, next: null }), id), model.state.aimed);
    }
    await session.commit((one) => core.place(one, id, { x: 0.625 * length, y: width / 2 }, true, true));
  }

  async function put() {
    const { item } = model.state;
    if (!item) return;
    const [a, b] = [along, across].map(numberIn);
    if (!Number.isFinite(a) || !Number.isFinite(b)) {
      said.textContent = 'Give two numbers, such as 2.5 and 1.';
      return;
    }
    const id = which.value;
    try {
      const place = await core.placeAt(item, a, b);
      await session.commit((one) => core.place(one, id, place, false, !isThere(id)), model.state.aimed);
      said.textContent = `${model.state.trial?.balls.find((ball) => ball.id === id)?.words ?? id}.`;
      along.value = across.value = '';
    } catch (error) {
      said.textContent = sentenceFor(error);
    }
  }

  form.addEventListener('submit', (event) => {
    event.preventDefault();
    void put();
  });
  tray.addEventListener('click', ({ target }) => {
    const id = target instanceof Element && target.closest('button')?.getAttribute('data-key');
    if (id) void toggle(id);
  });

  model.onDraw(({ item }, before) => {
    if (item === before.item) return;
    sync(tray, ALL, (id) => id, (id) => html('button', { class: 'tray', type: 'button' }, id), (ball, id) => {
      ball.setAttribute('aria-pressed', String(isThere(id)));
      ball.setAttribute('aria-label', `${id} ball`);
    });
  });

  return () => {
    if (dialog.open || !model.state.item) return;
    said.textContent = '';
    which.value = model.state.chosen?.startsWith('ball ') ? model.state.chosen.slice(5) : 'cue';
    dialog.showModal();
  };
}
