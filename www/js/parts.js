// The parts on the one page: the address says which is open, and the others are hidden.

import { byId } from './dom.js';
import { fragment, show } from './links.js';

/** @import { Show } from './links.js' */

/** @typedef {'read' | 'leave' | 'bench'} Name */

/**
 * What the page asks of a part. `open` gets the fragment of an item, or '' for what was open in it last (on the
 * first call: what the browser kept, else something fresh); `closed` is called when another part comes forward.
 * @typedef {{ open(link: string): void | Promise<void>, closed?(): void }} Part
 */

const KEY = 'leaveline.part';
const TITLES = { read: 'Read', leave: 'Leave', bench: 'Bench' };
const NAMES = /** @type {Name[]} */ (Object.keys(TITLES));

/** The part and the item that a fragment names. What no other part knows is for Read to open or to refuse. @param {string} text */
export function named(text) {
  const name = NAMES.find((one) => text === one || text.startsWith(`${one}=`)) ?? 'read';
  return { name, link: text === name ? '' : text };
}

/** @returns {Name} */
function last() {
  try {
    return NAMES.find((name) => name === localStorage.getItem(KEY)) ?? 'read';
  } catch {
    return 'read';
  }
}

export function createParts() {
  /** @type {Partial<Record<Name, Part>>} */
  const parts = {};
  /** @type {Name | null} */
  let open = null;

  /** Brings a part forward. @param {Name} name */
  function bring(name) {
    if (name === open) return;
    const before = open;
    open = name;
    document.title = `Leaveline: ${TITLES[name]}`;
    for (const one of document.querySelectorAll('[data-part]')) {
      if (one instanceof HTMLElement) one.hidden = one.dataset.part !== name;
    }
    for (const link of byId('parts', HTMLElement).querySelectorAll('a')) {
      if (link.hash === `#${name}`) link.setAttribute('aria-current', 'page');
      else link.removeAttribute('aria-current');
    }
    try {
      localStorage.setItem(KEY, name);
    } catch {
      // Then the page opens with Read next time.
    }
    if (before) parts[before]?.closed?.();
  }

  /** @param {string} text */
  function go(text) {
    const { name, link } = named(text);
    const known = parts[name] ? name : 'read';
    bring(known);
    void parts[known]?.open(known === name ? link : '');
  }

  addEventListener('hashchange', () => {
    if (fragment()) go(fragment());
  });

  return {
    /** @param {Name} name @param {Part} part */
    add(name, part) {
      parts[name] = part;
      for (const link of byId('parts', HTMLElement).querySelectorAll('a')) {
        if (link.hash === `#${name}` && link.parentElement) link.parentElement.hidden = false;
      }
    },

    /** Whether there is such a part. @param {Name} name */
    has: (name) => parts[name] !== undefined,

    /** Whether a part is the one that is seen. @param {Name} name */
    isOpen: (name) => open === name,

    /** How a part puts its items into the address: not at all while another is seen. @param {Name} name @returns {Show} */
    showFor: (name) => (link, how) => {
      if (open === name) show(link, how);
    },

    /** Opens a part, or the item of a link in its part. @param {string} text */
    visit(text) {
      show(text, 'push');
      go(text);
    },

    /** Opens what the address names, else the part that was open last. */
    start: () => go(fragment() || last()),
  };
}

/** @typedef {ReturnType<typeof createParts>} Parts */
