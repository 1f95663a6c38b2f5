// Draws the Log: sentences, skills, the plot with its table, the list of calls, where they are kept.

import { byId, html, option } from '../dom.js';
import { sync } from '../table/svg.js';
import { createPlot } from './plots.js';
import { shownView } from './state.js';
import { VIEWS, callWords, caption, count, date, moment, storageCell, storageWords } from './words.js';

/** @import { Kept, LogPlots, LogSkill } from '../engine/protocol.js' */
/** @import { Model, State, View } from './state.js' */

/** Rows of a table: so many of the points, evenly chosen (tuning choice: a table is read, not scanned). */
const MOST_ROWS = 40;

/** @param {number} x */
const number = (x) => x.toFixed(2);

/** @param {{ x: number[], y: number[] }} points */
function some({ x, y }) {
  const step = Math.max(1, Math.ceil(x.length / MOST_ROWS));
  return x.flatMap((one, k) => (k % step === 0 ? [[number(one), number(y[k])]] : []));
}

/** The plot as a table: its heads and its rows. @param {LogPlots} plots @param {View} view @returns {[string[], string[][]]} */
function tableOf({ groups, places, stops, placed }, view) {
  if (view === 'time') return [['When', 'Calls', 'Mean error'], groups.map(({ at, n, words }) => [date(at), String(n), words])];
  if (view === 'stops') return [['Right of the call, balls', 'Beyond it, balls'], some(stops)];
  return [[`Real, in ${placed}`, `Called, in ${placed}`], some(places)];
}

/** @param {LogSkill} skill */
function makeSkill({ id }) {
  const button = html('button', { type: 'button', class: 'log-skill', 'data-skill': id });
  button.append(...['name', 'n', 'bias', 'rest'].map((name) => html('span', { class: `log-${name}` })));
  return html('li', {}, button);
}

/** @param {Element} item @param {LogSkill} skill @param {string | null} chosen */
function showSkill(item, { id, name, n, words, interval, scatter, trend }, chosen) {
  const button = item.firstElementChild;
  if (!button) return;
  button.setAttribute('aria-pressed', String(id === chosen));
  const texts = [name, count(n, 'call'), `${words} ${interval === '–' ? '' : interval}`.trim(), `spread ${scatter}${trend === '–' ? '' : `; lately ${trend}`}`];
  texts.forEach((text, k) => (button.children[k].textContent = text));
}

/** @param {Kept} kept */
function makeCall({ record }) {
  const actions = [['show', 'Show again'], ['remove', 'Delete']].map(([does, text]) =>
    html('button', { type: 'button', class: 'action', 'data-does': does, 'data-id': record.id, 'aria-label': `${text}: ${moment(record.at)}` }, text));
  return html('li', { class: 'log-call' }, html('span', { class: 'log-when' }), html('span', { class: 'log-words' }), ...actions);
}

/** @param {Model} model */
export function createView(model) {
  const [stage, figure, plotBox, calls] = ['stage', 'figure', 'plot', 'calls'].map((id) => byId(`log-${id}`, HTMLElement));
  const [said, skills, list] = ['said', 'skills', 'list'].map((id) => byId(`log-${id}`, HTMLUListElement));
  const table = byId('log-table', HTMLTableElement);
  const choice = byId('log-view', HTMLSelectElement);
  choice.append(...VIEWS.map(([id, text]) => option(id, text)));
  const plot = createPlot(plotBox);

  /** Draws the plot anew: it has another size, other colours, or something else to show. */
  function redraw() {
    const { state } = model;
    void plot(state.plots, shownView(state));
  }

  /** @param {State} state */
  function showPlot(state) {
    const view = shownView(state);
    byId('log-caption', HTMLElement).textContent = caption(state, view);
    // What has no plot yet has neither a frame nor a table.
    const blank = view === 'time' && state.plots?.groups.length === 0;
    plotBox.hidden = blank;
    byId('log-numbers', HTMLElement).hidden = !state.plots || blank;
    if (state.plots && view !== 'list') {
      const [heads, rows] = tableOf(state.plots, view);
      table.replaceChildren(
        html('thead', {}, html('tr', {}, ...heads.map((text) => html('th', { scope: 'col' }, text)))),
        html('tbody', {}, ...rows.map((row) => html('tr', {}, ...row.map((text) => html('td', {}, text))))));
    }
    redraw();
  }

  model.onDraw((state, before) => {
    const { summary, skill, plots, view, calls: kept, more, storage, aside, held } = state;
    const empty = !summary || summary.n === 0;
    if (summary !== before.summary && summary) {
      const sentences = summary.sentences.length > 0 ? summary.sentences
        : [empty ? 'Nothing yet.' : 'Nothing sure yet: no bias stands out from your spread.'];
      said.replaceChildren(...sentences.map((text) => html('li', {}, text)));
      byId('log-title-calls', HTMLElement).textContent = summary.n.toLocaleString('en');
    }
    if (summary && (summary !== before.summary || skill !== before.skill)) {
      sync(skills, summary.skills, ({ id }) => id, makeSkill, (item, one) => showSkill(item, one, skill));
    }
    const shown = shownView(state);
    choice.value = shown;
    figure.hidden = shown === 'list';
    calls.hidden = shown !== 'list';
    stage.classList.toggle('empty', empty);
    byId('log-skills-panel', HTMLElement).hidden = empty;
    if (plots !== before.plots || view !== before.view) showPlot(state);
    if (kept !== before.calls) {
      sync(list, kept, ({ record }) => record.id, makeCall, (item, one) => {
        [item.children[0].textContent, item.children[1].textContent] = [moment(one.record.at), callWords(one)];
      });
    }
    byId('log-more', HTMLElement).hidden = !more;
    if (storage !== before.storage || aside !== before.aside || held !== before.held) {
      byId('log-storage', HTMLElement).textContent = storageWords(state);
      byId('log-title-storage', HTMLElement).textContent = storageCell(state);
      byId('log-persist', HTMLElement).hidden = storage !== 'evictable';
    }
    byId('log-next', HTMLButtonElement).disabled = state.next === null || state.dealing;
  });

  new ResizeObserver(redraw).observe(plotBox);
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', redraw);
}
