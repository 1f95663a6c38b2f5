// What is set beside an answer that was played: the best stroke, the shot with one thing changed, and the margins of both.

import { searchShared } from '../engine/shared.js';
import { pathOf } from '../table/balls.js';
import { MAP } from './map.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { BestProgress, LeaveItem, Struck, Trial } from '../engine/protocol.js' */
/** @import { Choice, Explain, Reasons } from '../panels/why.js' */
/** @import { Model } from './state.js' */

const percent = (/** @type {number} */ share) => `${Math.round(100 * share)}\u00a0%`;

/** @param {LeaveItem} item @param {Struck} stroke @returns {LeaveItem} */
const withStroke = (item, stroke) => ({ ...item, shot: { ...item.shot, stroke } });

/** While the search runs: how far it is. @param {number} done @returns {Choice} */
const searching = (done) => ({
  id: 'best', label: 'best stroke', text: `searching, ${percent(done)}`, sentence: 'Every pocket, speed and tip is tried with the hand.',
  differs: true, path: [], objectPath: [], dimension: null,
});

/** @param {BestProgress} found @param {Trial} trial @returns {Choice} */
function bestChoice({ measured, words }, { contactTime, tracks, first, stroke }) {
  if (!measured) return { ...searching(1), text: 'none found', sentence: words ?? '' };
  const since = contactTime ?? 0;
  return {
    ...searching(1),
    text: `${percent(measured.best.share)}, yours ${percent(measured.own.share)}`,
    sentence: `${words} ${stroke.words}`,
    path: pathOf(tracks, 'cue', since),
    objectPath: first === null ? [] : pathOf(tracks, first, since),
  };
}

/** The map as a choice, where there is a next ball. @param {string | null | undefined} next @returns {Choice[]} */
const mapOf = (next) => (next ? [{
  ...searching(0), id: MAP, label: `map of the ${next}`, text: 'chances', sentence: `The chance of potting the ${next} from each place, played by the hand; on the white line it is one in two.`,
}] : []);

/** How often it is told how far the search is: drawing it takes from what searches (tuning choice). */
const TOLD = 10;

/** @param {Engine} engine @param {Engine} slow @param {Model} model @returns {Explain} */
export const explainWith = (engine, slow, model) => async (give, stop) => {
  const { question, result, stroke, zone, hand } = model.state;
  if (!question || !result || !stroke) return;
  const item = withStroke(question.item, stroke);
  // Where the zone does not hold the stop, the margins tell of the pot alone.
  const zoned = { ...item, demand: { ...item.demand, zone } };
  const asked = Promise.all([engine.ask('why', { item }), slow.ask('margins', { item: zoned, hand })]);
  let told = 0;
  // The search waits for no answer: each worker begins with it as soon as it has given its own.
  const search = searchShared([slow, engine], { item, hand }, ({ done }) => {
    if (done < (told + 1) / TOLD) return;
    told = Math.floor(done * TOLD);
    void shown.then((show) => show(searching(done)));
  }, stop);
  const shown = asked.then(([why, own]) => {
    const { approach } = own;
    const given = {
      ...searching(0), id: 'own', label: 'your stroke', text: approach ? `comes ${approach.way}` : '',
      sentence: approach?.words ?? own.fault ?? '', path: result.path?.path ?? [],
    };
    /** @param {Choice} choice @param {Partial<Reasons>} [more] */
    const show = (choice, more) => give({ replays: [choice, given, ...why.replays, ...mapOf(item.demand.next)], facts: [], own, ...more });
    show(searching(0));
    return show;
  });
  const [show, found] = await Promise.all([shown, search]);
  const other = found.best ? withStroke(item, found.best.stroke) : item;
  const margins = slow.ask('margins', { item: other, hand });
  const choice = bestChoice(found, await engine.ask('trial', { item: other, aim: false }));
  show(choice);
  if (found.best) show(choice, { best: await margins });
};
