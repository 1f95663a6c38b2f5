// Finds what is on the page, and makes HTML elements.

import { set } from './table/svg.js';

/** @import { Attributes } from './table/svg.js' */

/**
 * @template {Element} E
 * @param {string} id @param {new (...rest: any) => E} kind
 * @returns {E}
 */
export function byId(id, kind) {
  const element = document.getElementById(id);
  if (!(element instanceof kind)) throw new Error(`the page has no ${kind.name} named ${id}`);
  return element;
}

/** @param {string} id */
export const button = (id) => byId(id, HTMLButtonElement);

/** A second press of a button this soon was meant for what it did before, ms. */
export const DOUBLE = 600;

/** @param {string} id @param {(event: MouseEvent) => void} act */
export const onClick = (id, act) => button(id).addEventListener('click', act);

/** Puts another text into an element: the same text, put there anew, has the browser lay out the page. @param {Element} element @param {string} text */
export function put(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** Hides an element or shows it, where it is not yet so. @param {HTMLElement} element @param {boolean} hidden */
export function hide(element, hidden) {
  if (element.hidden !== hidden) element.hidden = hidden;
}

/**
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} name @param {Attributes} [attributes] @param {(Element | string)[]} children
 */
export function html(name, attributes = {}, ...children) {
  const element = document.createElement(name);
  set(element, attributes);
  element.append(...children);
  return element;
}

/** A choice in a list. @param {string} value @param {string} [text] @param {string} [title] */
export const option = (value, text = value, title = undefined) => html('option', { value, title }, text);
