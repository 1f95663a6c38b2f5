// Sheets for the table: laid out as they will be printed, then printed by the browser.

import { html, option } from '../dom.js';
import { createEngine, wholeWorker } from '../engine/client.js';
import { labelled, press } from '../panels/dialog.js';
import { sentenceFor } from '../sentences.js';
import { style } from '../styles.js';
import { set } from '../table/svg.js';
import { factsOf } from './facts.js';
import { fit, makeFailedSlip, makeSlip } from './slip.js';

/** @import { Page } from './slip.js' */

/** Kinds of paper, each with the style sheet that tells the printer. */
const PAPERS = { a4: { name: 'A4', style: 'css/paper-a4.css' }, letter: { name: 'Letter', style: 'css/paper-letter.css' } };
const AMONG = [1, 2, 4];
/** Where no other device finds this page. */
const HERE_ALONE = ['localhost', '127.0.0.1', '[::1]'];

/** How sheets were printed last. */
const chosen = { paper: 'a4', among: 1 };

/** @param {Page} page @param {number} k @param {ReturnType<typeof createEngine>} engine @param {number} among */
async function slipOf(page, k, engine, among) {
  try {
    return makeSlip(`slip-${k}`, page, await factsOf(engine, page.item), among);
  } catch (error) {
    return makeFailedSlip(page.title, sentenceFor(error));
  }
}

/** Of both kinds of paper only the chosen one may speak to the printer. @param {string} paper */
async function speakOf(paper) {
  await Promise.all(Object.values(PAPERS).map((one) => style(one.style)));
  for (const [name, one] of Object.entries(PAPERS)) {
    for (const link of document.querySelectorAll(`link[href$="${one.style}"]`)) {
      if (link instanceof HTMLLinkElement) link.disabled = name !== paper;
    }
  }
}

/** The view in which sheets are looked at before they are printed. */
function makeView() {
  const paper = html('select', {}, ...Object.entries(PAPERS).map(([id, { name }]) => option(id, name)));
  const among = html('select', {}, ...AMONG.map((n) => option(String(n))));
  const said = html('p', { class: 'small', role: 'status' });
  const print = press('Print', undefined, { class: 'action primary' });
  const done = press('Done');
  const leaves = html('div', { class: 'leaves' });
  paper.value = chosen.paper;
  among.value = String(chosen.among);
  const view = html('section', { class: 'paper', role: 'dialog', 'aria-modal': 'true', 'aria-labelledby': 'paper-heading' },
    html('div', { class: 'paper-bar' },
      html('h2', { id: 'paper-heading', tabindex: -1 }, 'Sheets to print'),
      labelled('Paper', paper), labelled('Items on a sheet', among), print, done, said),
    leaves);
  return { view, paper, among, said, print, done, leaves };
}

/**
 * Lays the items out on sheets and lets the user print them. Whatever else is on the page waits.
 * @param {readonly Page[]} pages
 */
export async function openPaper(pages) {
  await Promise.all([style('css/zone.css'), style('css/leave.css'), style('css/paper.css'), speakOf(chosen.paper)]);
  const engine = createEngine(wholeWorker);
  const { view, paper, among, said, print, done, leaves } = makeView();
  // A dialog that closes gives the keyboard back to what opened it; there it returns in the end.
  for (const dialog of document.querySelectorAll('dialog')) dialog.close();
  const before = document.activeElement;
  const others = [...document.body.children].filter((one) => one instanceof HTMLElement && !one.inert);
  for (const one of others) set(one, { inert: '' });
  document.body.append(view);
  document.body.classList.add('papered');
  let turn = 0;

  async function lay() {
    const mine = ++turn;
    const n = Number(among.value);
    print.disabled = true;
    leaves.replaceChildren();
    /** @type {number[]} */
    const spilled = [];
    for (let k = 0; k < pages.length; k += n) {
      said.textContent = `Laying out ${k + 1} of ${pages.length}…`;
      const slips = await Promise.all(pages.slice(k, k + n).map((page, j) => slipOf(page, k + j, engine, n)));
      if (mine !== turn) return;
      leaves.append(html('div', { class: `leaf ${paper.value} of-${n}` }, ...slips));
      slips.forEach((slip, j) => fit(slip) || spilled.push(k + j + 1));
    }
    print.disabled = false;
    const sheets = leaves.childElementCount;
    said.textContent = [
      sheets === 1 ? '1 sheet.' : `${sheets} sheets.`,
      ...(spilled.length ? [`Too long for its place, and cut off: item ${spilled.join(', ')}. Put fewer on a sheet.`] : []),
      ...(HERE_ALONE.includes(location.hostname) ? ['This page is served on this computer alone: its codes open nowhere else.'] : []),
    ].join(' ');
  }

  function close() {
    turn += 1;
    removeEventListener('keydown', onKey, true);
    engine.abort();
    view.remove();
    document.body.classList.remove('papered');
    for (const one of others) set(one, { inert: null });
    if (before instanceof HTMLElement) before.focus();
  }
  /** The parts of the page hear nothing meanwhile. @param {KeyboardEvent} event */
  function onKey(event) {
    if (event.key === 'Escape') close();
    event.stopPropagation();
  }
  addEventListener('keydown', onKey, true);
  paper.addEventListener('change', () => {
    chosen.paper = paper.value;
    void speakOf(paper.value);
    void lay();
  });
  among.addEventListener('change', () => {
    chosen.among = Number(among.value);
    void lay();
  });
  print.addEventListener('click', () => globalThis.print());
  done.addEventListener('click', close);
  view.querySelector('h2')?.focus();
  await lay();
}
