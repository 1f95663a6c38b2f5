// Which part and which item the page is asked for: by its address, else by what was open last.

import { fragment } from './links.js';

/** @import { Name } from './parts.js' */

const KEY = 'leaveline.part';

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
