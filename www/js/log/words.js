// What the Log says that is not the core's to say: counts, times, where calls are kept.

/** @import { Kept } from '../engine/protocol.js' */
/** @import { State, View } from './state.js' */

/** @type {[View, string][]} */
export const VIEWS = [
  ['places', 'Calls and outcomes'],
  ['time', 'Over time'],
  ['stops', 'Stops'],
  ['list', 'Call by call'],
];

const PARTS = { read: 'Read', leave: 'Leave', clear: 'Clear' };

/** Intl takes long to set up a format: that is done when it is first asked for. @param {Intl.DateTimeFormatOptions} options */
function formatWith(options) {
  /** @type {Intl.DateTimeFormat | null} */
  let format = null;
  return (/** @type {number} */ at) => (format ??= new Intl.DateTimeFormat('en', options)).format(at);
}

export const moment = formatWith({ day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit', hour12: false });
export const date = formatWith({ day: 'numeric', month: 'short', year: 'numeric' });

/** @param {number} n @param {string} one */
export const count = (n, one) => `${n.toLocaleString('en')} ${one}${n === 1 ? '' : 's'}`;

/** @param {Kept} kept */
export const callWords = ({ record: { item }, words }) =>
  (item.kind === 'eye' ? `Eye, ${words}` : `${PARTS[item.kind]} ${item.level}: ${words}`);

/** @param {State} state */
export function hint({ summary, next, dealing }) {
  if (!summary) return 'Adding up your calls…';
  if (dealing) return 'Dealing a layout…';
  if (summary.n === 0) return 'Every call that you make in Read, Leave, Clear and Eye is kept here, on this device: Practise begins with one.';
  return next?.reason ?? 'Looking for what to practise next…';
}

/** Where calls are kept. @param {State} state */
export function storageWords({ storage, held, lasting, aside }) {
  const where = {
    persistent: 'Kept on this device; the browser does not clear it by itself.',
    evictable: 'Kept on this device. The browser may clear it when it runs out of room, and does when a private window closes.',
    none: 'Nothing can be kept (a private window, or blocked): export before you close the page.',
  };
  const more = [];
  if (held > 0) more.push(`${count(held, 'call')} could not be written and ${held === 1 ? 'is' : 'are'} held until ${lasting ? `${held === 1 ? 'it' : 'they'} can be` : 'the page is closed'}.`);
  if (aside.length > 0) more.push(`${count(aside.length, 'call')} could not be read and ${aside.length === 1 ? 'was' : 'were'} put aside: ${aside[0]}.`);
  return [storage ? where[storage] : '', ...more].join(' ').trim();
}

/** In the title block. @param {State} state */
export const storageCell = ({ storage }) => ({ persistent: 'kept', evictable: 'kept for now', none: 'not kept' })[storage ?? 'none'];

/** Calls of one group of the mean error over time, as the core groups them. */
const PLOTTED_FROM = 10;

/** What a plot shows. @param {State} state @param {View} view */
export function caption({ plots }, view) {
  if (!plots) return '';
  const { name, n, places, stops, unit, groups } = plots;
  if (view === 'time' && groups.length === 0) return `${name}: shown from ${PLOTTED_FROM} calls on; you have ${n}.`;
  const of = (/** @type {number} */ shown) => (shown < n ? `the latest ${shown.toLocaleString('en')} of ${count(n, 'call')}` : count(n, 'call'));
  if (view === 'stops') return `${name}, ${of(stops.x.length)}: where the cue ball stopped as seen from the call, in balls.`;
  if (view === 'time') return `${name}, ${count(n, 'call')}: mean error in ${unit}, with its 95 % interval.`;
  return `${name}, ${of(places.x.length)}: on the line, what was called is what happened.`;
}
