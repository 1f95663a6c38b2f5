// What stands on the page for the Log.

import { byId, html } from '../dom.js';
import { action } from '../panels/buttons.js';

/** @param {string} id @param {string} caption @param {string} kind */
const cell = (id, caption, kind) =>
  html('div', { class: `cell ${kind}`.trim() }, html('dt', {}, caption), html('dd', { id: `log-title-${id}` }));

/** @param {string} id @param {string} title @param {...Element} content */
const section = (id, title, ...content) =>
  html('section', { class: 'log-panel', id: `log-${id}-panel`, 'aria-labelledby': `log-${id}-title` }, html('h2', { class: 'log-heading', id: `log-${id}-title` }, title), ...content);

export function createBlock() {
  const part = { 'data-part': 'log', hidden: '' };
  byId('help', HTMLElement).before(
    html('label', { class: 'level', ...part }, html('span', { class: 'caption' }, 'Show'), html('select', { id: 'log-view' })));
  byId('sheet', HTMLElement).append(
    html('div', { class: 'part', id: 'log', ...part },
      html('main', { class: 'board' },
        html('section', { class: 'stage log-stage', id: 'log-stage', 'aria-label': 'What is shown' },
          html('figure', { id: 'log-figure', class: 'log-figure' },
            html('div', { id: 'log-plot', class: 'log-plot', 'aria-hidden': 'true' }),
            html('figcaption', { id: 'log-caption' }),
            html('details', { id: 'log-numbers' }, html('summary', {}, 'As a table'),
              html('div', { class: 'log-table', tabindex: 0, role: 'region', 'aria-label': 'The plot as a table' }, html('table', { id: 'log-table' })))),
          html('div', { id: 'log-calls', class: 'log-calls', hidden: '' },
            html('ul', { id: 'log-list', 'aria-label': 'Your calls, the latest first' }),
            html('button', { type: 'button', class: 'action', id: 'log-more', hidden: '' }, 'Earlier calls'))),
        html('p', { class: 'hint', id: 'log-hint' }, 'Adding up your calls…'),
        html('div', { class: 'side log-side' },
          section('said', 'What your calls say', html('ul', { class: 'log-said', id: 'log-said' })),
          section('skills', 'Skills: bias, spread, trend', html('ul', { class: 'log-skills', id: 'log-skills' })),
          section('storage', 'Where they are kept', html('p', { class: 'log-small', id: 'log-storage' }),
            html('div', { class: 'log-row' },
              action('log', 'persist', 'Keep for good', { hidden: '' }),
              action('log', 'export', 'Export'),
              action('log', 'import', 'Import'),
              action('log', 'delete', 'Delete…', { 'aria-haspopup': 'dialog' })))),
        html('div', { class: 'actions' },
          action('log', 'next', 'Practise', { class: 'action primary', 'aria-keyshortcuts': 'P' }),
          action('log', 'other', 'Other…', { 'aria-haspopup': 'dialog' }),
          action('log', 'daily', 'Today’s set', { title: 'Ten items, the same for everyone' }),
          html('input', { type: 'file', id: 'log-file', accept: '.jsonl,.json,.txt', hidden: '', tabindex: -1, 'aria-label': 'File of a log' }))),
      html('section', { class: 'title', 'aria-label': 'Title block' },
        html('dl', {}, cell('task', 'Log', 'wide'), cell('calls', 'Calls', ''), cell('storage', 'Storage', ''), cell('model', 'Physics', 'extra')))));
  byId('help-keys', HTMLElement).append(
    html('dl', { class: 'keys', ...part },
      html('div', {}, html('dt', {}, html('kbd', {}, 'P')), html('dd', {}, 'practise what is suggested')),
      html('div', {}, html('dt', {}, html('kbd', {}, 'Tab')), html('dd', {}, 'to a skill, a call, the table of the plot'))));
}
