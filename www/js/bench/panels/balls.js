// The tray: balls put on the table and taken off, and places typed in diamonds.

import { byId, html, onClick } from '../../dom.js';
import { sentenceFor } from '../../sentences.js';
import { sync } from '../../table/sync.js';
import { asking } from '../session.js';

/** @import { Core } from '../core.js' */
/** @import { Session } from '../session.js' */
/** @import { Model } from '../state.js' */

const ALL = Array.from({ length: 15 }, (_, k) => String(k + 1));

/** A number as players write it, with a comma or a point. @param {string} text */
const number = (text) => (text.trim() === '' ? NaN : Number(text.trim().replace(',', '.')));

/** @param {Model} model @param {Session} session @param {Core} core */
export function createBallsDialog(model, session, core) {
  const dialog = byId('balls-dialog', HTMLDialogElement);
  const tray = byId('balls-tray', HTMLElement);
  const which = byId('balls-which', HTMLSelectElement);
  const [along, across] = ['balls-along', 'balls-across'].map((id) => byId(id, HTMLInputElement));
  const said = byId('balls-said', HTMLElement);

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
    const [a, b] = [number(along.value), number(across.value)];
    if (!Number.isFinite(a) || !Number.isFinite(b)) {
      said.textContent = 'Give two numbers, such as 2.5 and 1.';
      return;
    }
    const id = which.value;
    try {
      const place = await core.placeAt(item, a, b);
      await session.commit((one) => core.place(one, id, place, false, !isThere(id)), model.state.aimed);
      said.textContent = `${model.state.board?.balls.find((ball) => ball.id === id)?.words ?? id}.`;
      along.value = across.value = '';
    } catch (error) {
      said.textContent = sentenceFor(error);
    }
  }

  which.append(...['cue', ...ALL].map((id) => Object.assign(html('option', '', id === 'cue' ? 'cue ball' : `${id} ball`), { value: id })));
  byId('balls-form', HTMLFormElement).addEventListener('submit', (event) => {
    event.preventDefault();
    void put();
  });
  onClick('balls-close', () => dialog.close());
  tray.addEventListener('click', ({ target }) => {
    const id = target instanceof Element && target.closest('button')?.getAttribute('data-key');
    if (id) void toggle(id);
  });

  model.onDraw(({ item }, before) => {
    if (item === before.item) return;
    sync(tray, ALL, (id) => id, (id) => Object.assign(html('button', 'tray', id), { type: 'button' }), (ball, id) => {
      ball.setAttribute('aria-pressed', String(isThere(id)));
      ball.setAttribute('aria-label', `${id} ball`);
    });
  });

  return () => {
    if (dialog.open || !model.state.item) return;
    said.textContent = '';
    const chosen = model.state.chosen?.startsWith('ball ') ? model.state.chosen.slice(5) : 'cue';
    which.value = chosen;
    dialog.showModal();
  };
}
