// What stands on the page for Clear.

import { LIMITS } from '../../pkg/limits.js';
import { html, option } from '../dom.js';
import { CELLS, makeBlock, strokeSection } from '../panels/block.js';
import { action, steps, tool, toolRow } from '../panels/buttons.js';

/** The ruler's end, in lengths. */
const MOST = 12;

/** @param {string} id @param {string} label @param {string} [kind] */
const list = (id, label, kind = '') =>
  html('ul', { class: `lines ${kind}`.trim(), id: `clear-${id}`, role: 'listbox', tabindex: 0, 'aria-label': label });

/** @param {string} id @param {string} title @param {...Element} content */
const section = (id, title, ...content) =>
  html('section', { class: id, id: `clear-${id}`, 'aria-labelledby': `clear-${id}-title`, hidden: '' },
    html('h2', { class: 'heading', id: `clear-${id}-title` }, title), ...content);

/** @param {string} caption @param {HTMLSelectElement} select */
const chosen = (caption, select) => html('label', {}, html('span', { class: 'caption' }, caption), select);

const layouts = () =>
  html('select', { id: 'clear-wish', title: 'Deals at once' },
    ...LIMITS.rotation.map((n) => option(`rotation ${n}`, `${n} in rotation`)), ...LIMITS.group.map((n) => option(`group ${n}`, `${n}, then the 8`)));

export const createBlock = () =>
  makeBlock('clear', {
    choice: { id: 'level', caption: 'Level' },
    side: [
      strokeSection('clear', 'The shot', MOST,
        html('div', { class: 'played-by' },
          chosen('Hand', html('select', { id: 'clear-hand', title: 'Plays the shots, and is what plans are made for' })),
          chosen('Layout', layouts()))),
      section('run', 'The run', html('p', { class: 'run-key', 'aria-hidden': 'true' }, 'chance to clear, %: best / yours / after'), list('shots', 'The shots so far, with their chances')),
      section('plan', 'Plan',
        html('div', { class: 'verdict' },
          html('p', { class: 'mark' }, html('span', { id: 'clear-chance' }), ' ', html('small', { id: 'clear-sure' })),
          html('p', { class: 'found', id: 'clear-found' })),
        html('p', { class: 'own', id: 'clear-own' }),
        html('p', { class: 'run-key', 'aria-hidden': 'true' }, 'chance to clear from there on'),
        list('steps', 'The plan, shot by shot: Enter takes the first over'),
        html('ul', { class: 'seconds', id: 'clear-seconds', 'aria-label': 'Second plans' }),
        html('p', { class: 'key', id: 'clear-key' })),
      section('now', 'What now', html('p', { class: 'found', id: 'clear-looking' }), list('ways', 'Shots from here: Enter takes one over')),
      toolRow('Edit the run', [
        ...steps('clear'),
        tool('clear', 'zone', { label: 'Mark the zone to leave the cue ball in', keys: 'Z' }),
        tool('clear', 'remove', { label: 'Remove the zone', title: 'Remove the zone (Delete)' }),
        tool('clear', 'type', { label: 'Type the zone', keys: 'T', popup: true }),
        tool('clear', 'exact', { label: 'Play the exact stroke', title: 'Play the exact stroke, without the hand’s errors (X)', keys: 'X', pressed: false }),
        tool('clear', 'back', { label: 'Take the last shot back', keys: 'B' }),
        tool('clear', 'replay', { label: 'Replay the last shot', keys: 'R' }),
        tool('clear', 'again', { label: 'Start the layout again', keys: 'A' }),
        tool('clear', 'task', { label: 'A task on the way in the next deals', keys: 'Q', pressed: false }),
      ]),
    ],
    actions: [
      action('clear', 'play', 'Play', { 'aria-keyshortcuts': 'P' }),
      action('clear', 'rate', '1×', { hidden: '' }),
      action('clear', 'show', 'Plan', { 'aria-pressed': 'false', 'aria-keyshortcuts': 'L', title: 'The tool’s plan (L)' }),
      action('clear', 'ways-on', 'What now', { 'aria-pressed': 'false', 'aria-keyshortcuts': 'W', title: 'Shots from here, with their chances (W)' }),
      action('clear', 'deal', 'Deal', { 'aria-keyshortcuts': 'D' }),
      action('clear', 'share', 'Share', { 'aria-haspopup': 'dialog', 'aria-keyshortcuts': 'S' }),
    ],
    cells: CELLS,
    keys: [
      ['`P`', 'play'],
      ['`L`', 'the plan'],
      ['`W`', 'what now'],
      ['`B`', 'take a shot back'],
      ['`R`', 'see it again'],
      ['`A`', 'start again'],
      ['`D`', 'deal'],
      ['`S`', 'share'],
      ['`Q`', 'tasks on the way'],
      ['`Z`', 'mark the zone'],
      ['`T`', 'type it'],
      ['`X`', 'the exact stroke or the hand’s'],
      ['`Enter`', 'on a ball: its place in the order; on a pocket: aims; on the plan’s first shot or a line of What now: takes it over'],
      ['`←` `↑` `→` `↓`', 'move the zone by 1 cm, set tip and speed; with `Shift` finely'],
      ['`+` `−` `[` `]`', 'size the zone (with `Shift` its width), turn it; `Delete` takes it away'],
      ['`Ctrl` `Z`', 'undoes, with `Shift` does again'],
    ],
  });
