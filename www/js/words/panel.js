// The glossary: a list of words, and the one that is chosen with its example.

import { html } from '../dom.js';
import { svg } from '../table/svg.js';
import { createExample } from './example.js';

/** @import { Glossary, Word } from './glossary.js' */

/** @param {Glossary} glossary */
export function createWords({ table, words }) {
  const drawing = svg('svg', { class: 'table', id: 'words-table', role: 'group' });
  const draw = createExample(drawing, table);
  const term = html('h3', {});
  const [meaning, shows] = ['meaning', 'shows'].map((kind) => html('p', { class: kind }));

  /** @param {Word} word */
  function choose(word) {
    term.textContent = word.term;
    meaning.textContent = word.meaning;
    shows.textContent = word.shows;
    drawing.setAttribute('aria-label', `Example: ${word.term}`);
    draw(word);
  }

  /** @param {Word} word @param {number} index */
  function entry(word, index) {
    const radio = html('input', { type: 'radio', name: 'word', value: word.id });
    radio.checked = index === 0;
    radio.addEventListener('change', () => choose(word));
    return html('label', {}, radio, html('span', {}, word.term));
  }

  choose(words[0]);
  return html('div', { class: 'words-page' },
    html('div', { class: 'words-stage' }, drawing),
    html('div', { class: 'words-said', 'aria-live': 'polite' }, term, meaning, shows),
    html('fieldset', { class: 'words-list' }, html('legend', { class: 'spoken' }, 'Words'), ...words.map(entry)));
}
