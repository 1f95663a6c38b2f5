// The strip in the page's head while a set is taken: which item it is, and the ways on and back.

import { byId, html } from '../dom.js';
import { onShow } from '../links.js';
import { style } from '../styles.js';
import { svg } from '../table/svg.js';
import { fragment } from '../which-part.js';
import { taking } from './taking.js';

/** @import { Page } from '../main.js' */

/** Under this address the set itself is seen. */
const SETS = 'sets';

/** @param {string} label @param {string} d @param {() => void} act */
function sign(label, d, act) {
  const one = html('button', { type: 'button', 'aria-label': label, title: label }, svg('svg', { viewBox: '0 0 24 24', 'aria-hidden': 'true' }, svg('path', { d })));
  one.addEventListener('click', act);
  return one;
}

let opened = false;

/** Puts the strip on the page, once. @param {Page} page */
export async function openStrip(page) {
  if (opened) return;
  opened = true;
  await style('css/strip.css').catch(() => {});
  page.marks.listen(taking.heard);

  const go = (/** @type {number} */ by) => {
    const { now } = taking;
    if (!now) return;
    const at = now.links.indexOf(fragment());
    const next = (at < 0 ? now.at : at) + (at < 0 ? 0 : by);
    if (now.links[next]) taking.visit(page, next);
    else page.parts.visit(SETS);
  };
  const [back, on] = [sign('The item before', 'm14 6-6 6 6 6', () => go(-1)), sign('The next item', 'm10 6 6 6-6 6', () => go(1))];
  const [standing, title] = ['strip-at', 'strip-title'].map((kind) => html('span', { class: kind }));
  const count = html('button', { type: 'button', class: 'strip-count' }, standing, ' ', title);
  count.addEventListener('click', () => page.parts.visit(SETS));
  const end = html('button', { type: 'button', 'aria-label': 'End the set' }, 'End');
  end.addEventListener('click', () => {
    taking.put(null);
    page.parts.visit(SETS);
  });
  const strip = html('div', { class: 'strip', id: 'strip', role: 'group', 'aria-label': 'The set that is taken' }, back, count, on, end);
  byId('parts', HTMLElement).after(strip);

  /** What is said of the item, until another is. */
  let said = '';

  function show() {
    const { now } = taking;
    const at = now ? now.links.indexOf(fragment()) : -1;
    // On the Sets screen the parts are seen as ever; away from the items the strip leads back to them.
    const here = fragment() === SETS || fragment().startsWith('set=');
    strip.hidden = now === null || here;
    document.body.classList.toggle('taking', !strip.hidden);
    if (!now) return;
    const n = now.links.length;
    const mark = at < 0 ? null : now.marks[at];
    const came = mark === null ? '' : typeof mark === 'number' ? ` · ${Math.round(mark)}` : mark ? ' · cleared' : ' · not cleared';
    standing.textContent = at < 0 ? `Back to ${now.at + 1} of ${n}` : `${at + 1} of ${n}${came}`;
    count.title = title.textContent = now.set.title;
    count.setAttribute('aria-label', `${count.textContent}${at < 0 ? '' : ': see the set'}`);
    back.disabled = at === 0;
    on.classList.toggle('primary', mark !== null);
    const word = `${at + 1} of ${n}, ${now.set.title}.`;
    if (at >= 0 && !strip.hidden && word !== said) page.voice.announce((said = word));
  }

  taking.onChange(show);
  for (const name of ['hashchange', 'popstate']) addEventListener(name, show);
  onShow(show);
  show();
}
