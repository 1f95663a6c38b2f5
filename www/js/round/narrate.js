// Turns what happened into what a screen reader hears.

/** @import { AnyRound, RoundModel } from './state.js' */

/** Sentences one after another. @param {readonly string[]} all */
export const told = (all) => all.map((one) => (/[.?!]$/.test(one) ? one : `${one}.`)).join(' ');

/** What became of the called points. @param {AnyRound} state @param {AnyRound} before @param {string} none */
function pointsChanged({ points }, { points: old }, none) {
  const count = points.length;
  const at = points.findIndex((point, index) => point !== old[index]);
  if (count < old.length) return count ? `${count} ${count === 1 ? 'point is' : 'points are'} left.` : none;
  if (at < 0) return '';
  return `${at === count - 1 && !points[at].rail ? 'Stop' : `Point ${at + 1}`}: ${points[at].words}.`;
}

/**
 * `layout` is heard when an item opens, `verdict` when it was played, `none` when nothing is called any more; `more`
 * says what else changed, or ''.
 * @template {AnyRound} S
 * @param {RoundModel<S>} model @param {(sentence: string) => void} announce
 * @param {{ layout(state: S): string, verdict(state: S): string, none: string, more?(state: S, before: S): string }} words
 */
export function narrate(model, announce, { layout, verdict, none, more }) {
  model.onChange((state, before) => {
    const other = state.question === before.question ? (more?.(state, before) ?? '') : '';
    if (state.question !== before.question) announce(layout(state));
    else if (state.phase === 'played' && (before.phase !== 'played' || state.shown !== before.shown)) announce(verdict(state));
    else if (state.phase === 'playing' && before.phase !== 'playing') announce('Playing.');
    else if (other) announce(other);
    else if (state.points !== before.points) announce(pointsChanged(state, before, none));
  });
}
