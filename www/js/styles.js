// Loads style sheets that not every visit needs.

import { html } from './dom.js';

/** Style sheets that are there or on their way. @type {Map<string, Promise<void>>} */
const sheets = new Map();

/** Loads a style sheet of the page's folder, once. @param {string} name */
export function style(name) {
  // By this file's own place: a released page keeps its files in a folder of their version.
  const link = html('link', { rel: 'stylesheet', href: new URL(`../${name}`, import.meta.url).href });
  const sheet = sheets.get(name) ?? new Promise((done, fail) => {
    link.addEventListener('load', () => done());
    link.addEventListener('error', () => {
      link.remove();
      sheets.delete(name);
      fail(new Error(`${name} did not load`));
    });
    document.head.append(link);
  });
  sheets.set(name, sheet);
  return sheet;
}
