// Calls on their way into the Log: each lies in the browser's small storage from the moment it is made until the
// database has it, so that none is lost if the page is closed meanwhile.

/** @import { LogRequest } from '../engine/protocol.js' */

/** A call that is to be kept; `amend` tells more of one that is. @typedef {{ request: LogRequest, amend: boolean }} Pending */

const PREFIX = 'leaveline.call.';

/** So many wait at most (tuning choice: half a megabyte, a tenth of what browsers give). */
const MOST = 300;

function keys() {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(PREFIX));
  } catch {
    return [];
  }
}

/** Puts a call down; null where nothing can be. @param {Pending} pending @returns {string | null} Its key. */
export function putDown(pending) {
  // Each has a key of its own, so that tabs do not write over each other; what tells more of a call comes after it.
  const key = `${PREFIX}${pending.request.at}.${pending.amend ? 'more' : 'call'}.${crypto.getRandomValues(new Uint32Array(1))[0]}`;
  try {
    if (keys().length >= MOST) return null;
    localStorage.setItem(key, JSON.stringify(pending));
    return key;
  } catch {
    return null;
  }
}

/** The calls that lie there, the earliest first; what cannot be read is gone. @returns {({ key: string } & Pending)[]} */
export const waiting = () => keys().sort().flatMap((key) => {
  try {
    const { request, amend } = JSON.parse(localStorage.getItem(key) ?? '');
    return [{ key, request, amend: amend === true }];
  } catch {
    lift(key);
    return [];
  }
});

/** The database has it, or nobody wants it any more. @param {string | null} key */
export function lift(key) {
  try {
    if (key) localStorage.removeItem(key);
  } catch {
    // What cannot be reached now is tried again at the next start, and known there.
  }
}

/** Nothing waits any more. */
export const liftAll = () => keys().forEach(lift);
