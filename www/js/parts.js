// The parts on the one page: the address says which is open, and the others are hidden. A part is loaded when it is
// first opened; once one is open and nothing else is to be done, so are the others, one thing after the other.

import { byId } from './dom.js';
import { bring, fragment, named, remember, titleOf, unveil, wished } from './which-part.js';
import { show } from './links.js';
import { style } from './styles.js';

/** @import { Show } from './links.js' */
/** @import { Page } from './main.js' */

/** @typedef {'read' | 'leave' | 'clear' | 'eye' | 'bench' | 'sets' | 'log'} Name */
/** How an item is opened that may be open: as what was kept of it has it now, or as if nothing had been done on it. @typedef {'again' | 'fresh'} How */

/**
 * What the page asks of a part. `open` gets the fragment of an item, or '' for what was open in it last (on the
 * first call: what the browser kept, else something fresh).
 * @typedef {{ open(link: string, how?: How): void | Promise<void> }} Part
 */
/** What stands on the page comes first, then what is to happen there: two short tasks for the browser. @typedef {{ createBlock(page: Page): any, createPart(page: Page, block: any): Part }} Module */

/** How each part is loaded, and its styles beside those that all have. @type {Record<Name, { load(): Promise<Module>, styles: string[] }>} */
const KNOWN = {
  read: { load: () => import('./read/part.js'), styles: [] },
  leave: { load: () => import('./leave/part.js'), styles: ['css/zone.css', 'css/leave.css'] },
  clear: { load: () => import('./clear/part.js'), styles: ['css/zone.css', 'css/leave.css', 'css/clear.css'] },
  eye: { load: () => import('./eye/part.js'), styles: ['css/zone.css', 'css/eye.css'] },
  bench: { load: () => import('./bench/part.js'), styles: ['css/zone.css', 'css/bench.css'] },
  sets: { load: () => import('./sets/part.js'), styles: ['css/zone.css', 'css/sets.css', 'css/strip.css'] },
  log: { load: () => import('./log/part.js'), styles: ['pkg/vendor/uplot.css', 'css/log.css'] },
};

/** @param {Name} name */
async function load(name) {
  const { load: code, styles } = KNOWN[name];
  const [module] = await Promise.all([code(), ...styles.map(style)]);
  return module;
}

/** Lets the page do first what it has to do. @returns {Promise<unknown>} */
const idle = () => new Promise((done) => ('requestIdleCallback' in globalThis ? requestIdleCallback(done) : setTimeout(done, 1000)));

/** Ends a task, so that what the player does comes in between. @returns {Promise<void>} */
const pause = () => new Promise((done) => setTimeout(done));

/** Loads what the page is likely to need next: each for itself, for all at once would keep it from what the player does. @param {Page} page */
export async function loadAhead({ first, engine, parts }) {
  await idle();
  // One core after the other, and the rest when nothing compiles any more: a phone has few processors.
  if (parts.isOpen('read')) await first.wake();
  await engine.wake();
  const all = Object.values(KNOWN).flatMap(({ load: code, styles }) => [code, ...styles.map((name) => () => style(name))]);
  for (const one of [() => import('./panels/share.js'), () => import('./panels/type.js'), ...all]) {
    await idle();
    // What fails now is told when it is opened.
    await one().catch(() => {});
  }
}

/** @param {(sentence: string) => void} say */
export function createParts(say) {
  /** @type {Partial<Record<Name, Part>>} */
  const parts = {};
  /** Those that are on their way. @type {Partial<Record<Name, Promise<Part>>>} */
  const coming = {};
  /** @type {Page} */
  let page;
  /** @type {Name | null} */
  let open = null;
  /** Counts what was to be opened, so that what loads late does not come before a later wish. */
  let turn = 0;
  let stand = () => {};
  /** @type {Promise<void>} */
  const standing = new Promise((done) => (stand = done));

  /** Puts a part on the page. @param {Name} name */
  async function make(name) {
    const { createBlock, createPart } = await load(name).catch((error) => {
      // The next wish tries again.
      delete coming[name];
      throw error;
    });
    const block = createBlock(page);
    await pause();
    return (parts[name] = createPart(page, block));
  }

  /** @param {string} text @param {How} [how] */
  async function go(text, how) {
    const { name, link } = named(text);
    const mine = ++turn;
    try {
      if (!parts[name]) await (coming[name] ??= make(name));
    } catch {
      unveil();
      stand();
      if (mine === turn) say(`${titleOf(name)} could not be loaded. Check the connection, then load the page again.`);
      return;
    }
    if (mine !== turn) return;
    unveil();
    if (name !== open) {
      open = name;
      bring(name);
      remember(name);
    }
    stand();
    await parts[name]?.open(link, how);
  }

  addEventListener('hashchange', () => {
    if (fragment()) void go(fragment());
  });

  return {
    /** Once a part stands on the page and answers, or could not be loaded. */
    standing,

    /** Whether a part is the one that is seen. @param {Name} name */
    isOpen: (name) => open === name,

    /** How a part puts its items into the address: not at all while another is seen. @param {Name} name @returns {Show} */
    showFor: (name) => (link, how) => {
      if (open === name) show(link, how);
    },

    /** Opens a part, or the item of a link in its part. @param {string} text @param {How} [how] */
    visit(text, how) {
      show(text, 'push');
      void go(text, how);
    },

    /** Opens what the address names, else the part that was open last. @param {Page} all What the parts share. @returns {Promise<void>} once it is open */
    async start(all) {
      page = all;
      // Where the host names the file, too, the page must not be loaded anew from its folder.
      const file = location.pathname.split('/').pop();
      if (file) for (const link of byId('parts', HTMLElement).querySelectorAll('a')) link.setAttribute('href', file + link.hash);
      await go(wished());
    },
  };
}

/** @typedef {ReturnType<typeof createParts>} Parts */
