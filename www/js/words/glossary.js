// The words with their examples, from the file that the core has written: each shot in it was played by the core.

/** @import { Ball, Dimension, Pair, Table, Zone } from '../engine/protocol.js' */

/** A played shot: the cue ball's way to the first ball (or all of it), from there on, and the others' ways. */
/** @typedef {{ approach: Pair[], path: Pair[], others: Pair[][], ghost: Pair | null, touches: Pair[], stop: Pair }} Run */
/**
 * @typedef {{ kind: 'name', at: Pair, text: string } | { kind: 'line', from: Pair, to: Pair }
 *   | { kind: 'angle', dimension: Dimension } | { kind: 'zone', zone: Zone }} Mark
 */
/**
 * A word; the first of `runs` is the main one, `shows` says what was measured on it, and it is drawn large around `near`.
 * @typedef {{ id: string, term: string, meaning: string, shows: string, balls: Ball[], runs: Run[], marks: Mark[], near: Pair | null }} Word
 */
/** @typedef {{ table: Table, words: Word[] }} Glossary */

/** @returns {Promise<Glossary>} */
export async function fetchGlossary() {
  const reply = await fetch(new URL('../../words/glossary.json', import.meta.url));
  if (!reply.ok) throw new Error('words/glossary.json did not load');
  return reply.json();
}
