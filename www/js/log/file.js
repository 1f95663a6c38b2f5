// The Log as a file: one call a line, so that a spoilt line spoils no other.

import { html } from '../dom.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Keeper } from './keeper.js' */

const HEADER = '{"kind":"leaveline-log","version":1}\n';

/** So many characters are read at once (tuning choice: a thousand calls or two, half of what the core takes). */
const CHUNK = 2_000_000;

/** @param {Keeper} keeper */
export async function asFile(keeper) {
  const pieces = [HEADER];
  await keeper.export((lines) => pieces.push(`${lines}\n`));
  return new Blob(pieces, { type: 'application/jsonl' });
}

/** Hands a file to the player. @param {Blob} file @param {string} name */
export function give(file, name) {
  const link = html('a', { href: URL.createObjectURL(file), download: name });
  link.click();
  // The browser has it by then.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** Pieces of whole lines, each with the number of lines before it. @param {string} text @returns {Generator<{ piece: string, before: number }>} */
export function* pieces(text) {
  let before = 0;
  for (let at = 0; at < text.length; ) {
    const end = at + CHUNK >= text.length ? text.length : text.indexOf('\n', at + CHUNK);
    const piece = text.slice(at, end < 0 ? text.length : end);
    yield { piece, before };
    before += piece.split('\n').length;
    at += piece.length + 1;
  }
}

/**
 * Takes the calls of a file in. @param {Blob} file @param {Keeper} keeper @param {Engine} engine
 * @returns {Promise<{ found: number, fresh: number, refused: { line: number, words: string }[] }>}
 */
export async function fromFile(file, keeper, engine) {
  const text = await file.text();
  const come = { found: 0, fresh: 0, refused: /** @type {{ line: number, words: string }[]} */ ([]) };
  const cut = [...pieces(text)];
  const read = (/** @type {number} */ k) => (k < cut.length ? engine.ask('logRead', cut[k].piece) : null);
  let coming = read(0);
  for (let k = 0; coming; k += 1) {
    const { kept, refused } = await coming;
    // The core reads on while these are written.
    coming = read(k + 1);
    coming?.catch(() => {});
    const { before } = cut[k];
    come.found += kept.length;
    come.fresh += await keeper.take(kept);
    come.refused.push(...refused.map(({ line, words }) => ({ line: line + before, words })));
  }
  return come;
}
