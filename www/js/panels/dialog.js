// Makes dialogs: a heading, what stands in it, and a row of buttons.

import { html } from '../dom.js';

/** @import { Attributes } from '../table/svg.js' */

/** @param {string} id @param {string} title @param {...(Element | string)} content */
export function makeDialog(id, title, ...content) {
  const dialog = html('dialog', { id: `${id}-dialog`, 'aria-labelledby': `${id}-heading` }, html('h2', { id: `${id}-heading` }, title), ...content);
  document.body.append(dialog);
  return dialog;
}

/** A button of a dialog. @param {string} text @param {() => void} [act] @param {Attributes} [more] */
export function press(text, act, more = {}) {
  const one = html('button', { type: 'button', class: 'action', ...more }, text);
  if (act) one.addEventListener('click', act);
  return one;
}

/** @param {...Element} buttons */
export const row = (...buttons) => html('div', { class: 'row' }, ...buttons);

/** The line in which a dialog answers. */
export const answerLine = () => html('p', { class: 'small', role: 'status' });

/** A list or a field under its name. @template {Element} E @param {string} name @param {E} field */
export const labelled = (name, field) => html('label', {}, name, field);

/** A field for a number. @param {Attributes} [more] */
export const numberField = (more = {}) => html('input', { inputmode: 'decimal', autocomplete: 'off', ...more });

/** A number as players write it, with a comma or a point; NaN where there is none. @param {HTMLInputElement} field */
export const numberIn = ({ value }) => (value.trim() === '' ? NaN : Number(value.trim().replace(',', '.')));
