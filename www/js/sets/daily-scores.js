// What the sets of the days came to: the first mark of each item counts, whatever is played for practice after it.

/** @import { SetMark } from '../engine/protocol.js' */

const KEY = 'leaveline.days';
/** So many days are kept (tuning choice). */
const MOST = 100;
const PREFIX = 'day-';

/** The id of a day's set. @param {string} day */
export const idOfDay = (day) => PREFIX + day;

/** The day of a set's id, or null. @param {string | null} id */
export const dayOf = (id) => (id?.startsWith(PREFIX) ? id.slice(PREFIX.length) : null);

/** @returns {Record<string, SetMark[]>} */
function read() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? 'null');
    return kept?.version === 1 ? kept.days : {};
  } catch {
    return {};
  }
}

/** The marks that count for a day, or null if nothing was played. @param {string | null} day */
export function marksOf(day) {
  const marks = day === null ? null : read()[day];
  return Array.isArray(marks) ? marks : null;
}

/** Keeps marks where there was none yet. @param {string} day @param {readonly SetMark[]} marks */
export function keepMarks(day, marks) {
  if (marks.every((mark) => mark === null)) return;
  const days = read();
  const before = marksOf(day) ?? [];
  const now = marks.map((mark, k) => before[k] ?? mark);
  const all = Object.entries({ ...days, [day]: now }).sort(([one], [other]) => (one < other ? -1 : 1));
  try {
    localStorage.setItem(KEY, JSON.stringify({ version: 1, days: Object.fromEntries(all.slice(-MOST)) }));
  } catch {
    // It counts as long as the set is being taken, and that is said where nothing can be kept.
  }
}
