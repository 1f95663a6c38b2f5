// The zone in numbers, typed: for exact zones, and for who does not see the table.

import { html, option } from '../dom.js';
import { EngineError } from '../engine/client.js';
import { sentenceFor } from '../sentences.js';
import { zoneInNumbers, zoneInWords } from '../table/zone.js';
import { answerLine, labelled, makeDialog, numberField, numberIn, press, row } from './dialog.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { LeaveItem, Table, Zone } from '../engine/protocol.js' */
/** @import { Name } from '../parts.js' */

/** What is typed: `zone` is there already, and `put` lets another stand. @typedef {{ item: LeaveItem, table: Table, zone: Zone | null, put(zone: Zone): void }} Typed */

const NAMES = /** @type {const} */ ({
  along: 'From the head, 0 to 8',
  across: 'From the right, 0 to 4',
  turn: 'Turned, degrees',
  long: 'Half its length',
  wide: 'Half its width',
});
const FIELDS = /** @type {(keyof typeof NAMES)[]} */ (Object.keys(NAMES));
/** Where there is no zone yet. */
const BEGIN = { along: 4, across: 2, turn: 0, long: 20, wide: 12.5 };

/** @param {Name} name @param {Engine} engine */
export function createZoneDialog(name, engine) {
  const fields = Object.fromEntries(FIELDS.map((field) => [field, numberField({ required: '' })]));
  const measure = html('select', {}, option('cm'), option('balls'));
  const said = answerLine();
  const form = html('form', { novalidate: '' },
    html('div', { class: 'fields' }, ...FIELDS.map((field) => labelled(NAMES[field], fields[field])), labelled('Sizes in', measure)),
    said,
    row(press('Put there', undefined, { type: 'submit', class: 'action primary' }), press('Done', () => dialog.close())));
  const dialog = makeDialog(`${name}-type-zone`, 'Type the zone', form);
  /** @type {Typed | null} */
  let typed = null;

  function fill() {
    if (!typed) return;
    const numbers = typed.zone ? zoneInNumbers(typed.zone, typed.table, measure.value === 'cm' ? 0.01 : 2 * typed.table.ballRadius) : BEGIN;
    for (const field of FIELDS) fields[field].value = String(numbers[field]);
  }

  /** @param {string} text @param {string | undefined} field */
  function refuse(text, field) {
    said.textContent = text;
    if (field && fields[field]) fields[field].focus();
  }

  async function put() {
    if (!typed) return;
    const { item, table } = typed;
    const [along, across, turn, long, wide] = FIELDS.map((field) => numberIn(fields[field]));
    const empty = FIELDS.find((field) => !Number.isFinite(numberIn(fields[field])));
    if (empty) return refuse(`${NAMES[empty]}: give a number, such as 2.5.`, empty);
    try {
      const zone = await engine.ask('zoneAt', { item, along, across, turn, long, wide, measure: measure.value === 'cm' ? 'cm' : 'balls' });
      typed = { ...typed, zone };
      typed.put(zone);
      said.textContent = `${zoneInWords(zone, table)}.`;
    } catch (error) {
      const field = error instanceof EngineError ? FIELDS.find((one) => one === error.field) : undefined;
      refuse(field && error instanceof EngineError ? `${NAMES[field]}: ${error.rule}.` : sentenceFor(error), field);
    }
  }

  measure.addEventListener('change', fill);
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    void put();
  });

  /** @param {Typed} wanted */
  return (wanted) => {
    if (dialog.open) return;
    typed = wanted;
    said.textContent = '';
    fill();
    dialog.showModal();
  };
}
