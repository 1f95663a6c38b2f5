// Which part is open: by the page's address, else by what was open last; and how it is brought forward.

import { byId } from './dom.js';

/** @import { Name } from './parts.js' */

const KEY = 'leaveline.part';

/** The address's fragment without its '#', or ''. */
export const fragment = () => location.hash.replace(/^#/, '');

/** @type {readonly Name[]} */
export const NAMES = ['read', 'leave', 'clear', 'eye', 'bench', 'sets', 'log'];

/** The part and the item that a fragment names. What no other part knows is for Read to open or to refuse. @param {string} text */
export function named(text) {
  if (text.startsWith('set=')) return { name: /** @type {const} */ ('sets'), link: text };
  const name = NAMES.find((one) => text === one || text.startsWith(`${one}=`)) ?? 'read';
  return { name, link: text === name ? '' : text };
}

/** The part that was open last. @returns {Name | null} */
function last() {
  try {
    return NAMES.find((name) => name === localStorage.getItem(KEY)) ?? null;
  } catch {
    return null;
  }
}

/** Keeps which part is open. @param {Name} name */
export function remember(name) {
  try {
    localStorage.setItem(KEY, name);
  } catch {
    // Then the page opens with Read next time.
  }
}

/** What the page opens with: what its address names, else the part that was open last. */
export const wished = () => fragment() || (last() ?? 'read');

/** Whether no part was ever open here, and Read is to open without an item. */
export function isNew() {
  const { name, link } = named(wished());
  return last() === null && name === 'read' && link === '';
}

/** The sheet takes the place of the words that the page opens with. */
export function unveil() {
  byId('closed', HTMLElement).hidden = true;
  byId('sheet', HTMLElement).hidden = false;
}

const links = () => byId('parts', HTMLElement).querySelectorAll('a');

/** What a part is called. @param {Name} name */
export const titleOf = (name) => [...links()].find(({ hash }) => hash === `#${name}`)?.textContent ?? name;

/** Brings a part forward. @param {Name} name */
export function bring(name) {
  byId('sheet', HTMLElement).dataset.open = name;
  document.title = `Leaveline: ${titleOf(name)}`;
  for (const one of document.querySelectorAll('[data-part]')) {
    if (one instanceof HTMLElement) one.hidden = one.dataset.part !== name;
  }
  for (const link of links()) {
    if (link.hash !== `#${name}`) link.removeAttribute('aria-current');
    else link.setAttribute('aria-current', 'page');
  }
  requestAnimationFrame(() => setTimeout(seen));
}

/** On a phone not all links are seen at once. To see to that before the page is laid out would lay it out twice. */
const seen = () => byId('parts', HTMLElement).querySelector('[aria-current]')?.scrollIntoView({ block: 'nearest', inline: 'center' });
