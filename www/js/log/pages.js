// Many calls as plain numbers, in pages: the core sums up years of calls without a look at each record. Pages are made
// of the records and can be made anew; the first number of a call says how many it has.

/** @typedef {{ page: number, ids: string[], numbers: Float64Array }} Page */

/** Calls on one page (tuning choice: written anew with each call, some 100 kB at most). */
export const MOST_ON_PAGE = 500;

/** @param {number} page @returns {Page} */
export const blank = (page) => ({ page, ids: [], numbers: new Float64Array() });

/** Whether this is a page as it was written. @param {any} page */
export function isSound(page) {
  if (!Array.isArray(page?.ids) || !(page.numbers instanceof Float64Array)) return false;
  let at = 0;
  for (const _ of page.ids) {
    const length = page.numbers[at];
    if (!(length >= 1) || at + length > page.numbers.length) return false;
    at += length;
  }
  return at === page.numbers.length;
}

/** @param {readonly ArrayLike<number>[]} pieces */
function joined(pieces) {
  const all = new Float64Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

/** A page without some calls. @param {Page} page @param {ReadonlySet<string>} gone @returns {Page} */
export function without({ page, ids, numbers }, gone) {
  /** @type {Float64Array[]} */
  const stay = [];
  let at = 0;
  for (const id of ids) {
    const end = at + numbers[at];
    if (!gone.has(id)) stay.push(numbers.subarray(at, end));
    at = end;
  }
  return { page, ids: ids.filter((id) => !gone.has(id)), numbers: joined(stay) };
}

/** A page with some calls more, in place of what it had of them. @param {Page} page @param {readonly { id: string, digest: ArrayLike<number> }[]} calls @returns {Page} */
export function withCalls(page, calls) {
  const { ids, numbers } = without(page, new Set(calls.map(({ id }) => id)));
  return { page: page.page, ids: [...ids, ...calls.map(({ id }) => id)], numbers: joined([numbers, ...calls.map(({ digest }) => digest)]) };
}

/** All calls of all pages. @param {readonly Page[]} pages */
export const together = (pages) => ({ ids: pages.flatMap(({ ids }) => ids), numbers: joined(pages.map(({ numbers }) => numbers)) });
