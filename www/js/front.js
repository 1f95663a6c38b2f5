// Which part is seen.

import { byId } from './dom.js';

/** @import { Name } from './parts.js' */

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
