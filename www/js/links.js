// The address of the page names the open part, and the open item.

import { fragment } from './which-part.js';

/** The link to the set of whichever day it is; those of a day begin with it. */
export const TODAY = 'set=day';

/** The page's address with this fragment. @param {string} link */
export function urlOf(link) {
  const url = new URL(location.href);
  url.hash = link;
  return url.href;
}

/** @type {(() => void)[]} */
const watchers = [];

/** Calls `watcher` whenever the page has put another fragment into its address. @param {() => void} watcher */
export const onShow = (watcher) => void watchers.push(watcher);

/**
 * Puts the fragment into the address; `push` leaves the former one to the back button.
 * @param {string} link @param {'push' | 'replace'} how
 */
export function show(link, how) {
  if (fragment() === link) return;
  try {
    if (how === 'push') history.pushState(null, '', `#${link}`);
    else history.replaceState(null, '', `#${link}`);
  } catch {
    // Browsers limit how often the address may change; the item is open all the same.
  }
  for (const watcher of watchers) watcher();
}

/** @typedef {typeof show} Show */
