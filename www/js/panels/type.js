// Points by their diamonds, typed: for exact calls, and for who does not see the table.

import { byId, onClick } from '../dom.js';
import { sentenceFor } from '../sentences.js';
import { FULL, isFull, nextIndex, placed } from '../path/state.js';
import { numberIn } from './dialog.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Item, LeaveItem, Rail } from '../engine/protocol.js' */
/** @import { PathModel } from '../path/state.js' */

/** To what points are added: a path, and the item on whose table it lies. @typedef {{ model: PathModel, item: () => Item | LeaveItem | null }} Path */

/** @param {Engine} engine */
export function createTypeDialog(engine) {
  const dialog = byId('type-dialog', HTMLDialogElement);
  const form = byId('type-form', HTMLFormElement);
  const rail = byId('type-rail', HTMLSelectElement);
  const [along, across] = ['type-along', 'type-across'].map((id) => byId(id, HTMLInputElement));
  const [name, row, said] = ['type-along-name', 'type-across-row', 'type-said'].map((id) => byId(id, HTMLElement));

  /** @type {Path | null} */
  let path = null;

  function describe() {
    const short = rail.value === 'foot' || rail.value === 'head';
    name.textContent = rail.value === '' ? 'Diamonds from the head, 0 to 8' : short ? 'Diamond from the right, 0 to 4' : 'Diamond from the head, 0 to 8';
    row.hidden = rail.value !== '';
  }

  async function add() {
    const item = path?.item();
    if (!path || !item) return;
    const { model } = path;
    if (isFull(model.state)) {
      said.textContent = FULL;
      return;
    }
    const values = rail.value === '' ? [along, across] : [along];
    const empty = values.find((field) => !Number.isFinite(numberIn(field)));
    if (empty) {
      said.textContent = 'Give a number, such as 2.5.';
      empty.focus();
      return;
    }
    const place = rail.value === ''
      ? { along: numberIn(along), across: numberIn(across) }
      : { rail: /** @type {Rail} */ (rail.value), along: numberIn(along) };
    try {
      const point = await engine.ask('pointAt', { item, ...place });
      if (path.item() !== item) return;
      model.change(placed, point, nextIndex(model.state));
      said.textContent = `Added: ${point.words}.`;
      along.value = across.value = '';
      rail.focus();
    } catch (error) {
      said.textContent = sentenceFor(error);
    }
  }

  rail.addEventListener('change', describe);
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    void add();
  });
  onClick('type-close', () => dialog.close());

  /** @param {Path} wanted */
  return (wanted) => {
    if (wanted.model.state.phase !== 'drawing' || dialog.open) return;
    path = wanted;
    said.textContent = '';
    describe();
    dialog.showModal();
  };
}

/** @typedef {ReturnType<typeof createTypeDialog>} TypeDialog */
