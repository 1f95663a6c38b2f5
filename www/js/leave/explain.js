// What is set beside an answer that was played: the best stroke, the shot with one thing changed, and its margins.

/** @import { Engine } from '../engine/client.js' */
/** @import { BestProgress, LeaveItem, Margins, Pair, Struck, Track, Trial } from '../engine/protocol.js' */
/** @import { Choice, Explain } from '../panels/why.js' */
/** @import { Model } from './state.js' */

const percent = (/** @type {number} */ share) => `${Math.round(100 * share)} %`;

/** A ball's path from a time on. @param {readonly Track[]} tracks @param {string} id @param {number} since @returns {Pair[]} */
function pathOf(tracks, id, since) {
  const samples = tracks.find((track) => track.id === id)?.samples ?? [];
  /** @type {Pair[]} */
  const path = [];
  for (let k = 0; k < samples.length; k += 3) if (samples[k] >= since) path.push([samples[k + 1], samples[k + 2]]);
  return path;
}

/** @param {LeaveItem} item @param {Struck} stroke @returns {LeaveItem} */
const withStroke = (item, stroke) => ({ ...item, shot: { ...item.shot, stroke } });

/** @param {string} text */
const lowered = (text) => text.charAt(0).toLowerCase() + text.slice(1);

/** While the search runs: how far it is. @param {number} done @returns {Choice} */
const searching = (done) => ({
  id: 'best', label: 'best stroke', text: `searching, ${percent(done)}`, sentence: 'Every pocket, speed and tip is tried with the hand.',
  differs: true, path: [], objectPath: [], dimension: null,
});

/** @param {BestProgress} found @param {Trial} trial @param {Choice['facts']} facts @returns {Choice} */
function bestChoice({ best, own }, trial, facts) {
  if (!best) return { ...searching(1), text: 'none found', sentence: 'No stroke gives what is asked.' };
  const since = trial.contactTime ?? 0;
  return {
    ...searching(1),
    text: `${percent(best.chance)}, yours ${percent(own ?? 0)}`,
    sentence: `The best stroke: ${lowered(trial.stroke.words)}`,
    path: pathOf(trial.tracks, 'cue', since),
    objectPath: trial.first === null ? [] : pathOf(trial.tracks, trial.first, since),
    facts,
  };
}

/** How far off an end is, without what that is at the ball. @param {string} words */
const short = (words) => words.replace(/,.*,/, '');

/** @param {Margins} margins @param {string} whose */
function marginFacts({ fault, bars, approach }, whose) {
  if (fault) return [{ label: `margins, ${whose}`, text: fault }];
  return [
    { label: 'margins', text: whose },
    ...bars.map(({ input, met }) => ({ label: input, text: met ? `${short(met.low.words)} … ${short(met.high.words)}` : 'no room' })),
    ...(approach ? [{ label: 'to the next', text: `${approach.way}, ${Math.round(approach.angle)}°` }] : []),
  ];
}

/** @param {Engine} engine @param {Engine} slow @param {Model} model @returns {Explain} */
export const explainWith = (engine, slow, model) => async (give, stop) => {
  const { question, result, stroke, zone, hand } = model.state;
  if (!question || !result || !stroke) return;
  const item = withStroke(question.item, stroke);
  const zoned = result.inZone ? { ...item, demand: { ...item.demand, zone } } : item;
  const [why, margins] = await Promise.all([engine.ask('why', { item }), slow.ask('margins', { item: zoned, hand })]);
  const own = marginFacts(margins, 'your stroke');
  const comes = margins.approach?.words ?? margins.fault ?? '';
  const given = { ...searching(0), id: 'own', label: 'your stroke', text: margins.approach ? `comes ${margins.approach.way}` : '', sentence: comes, path: result.path?.path ?? [] };
  const reasons = (/** @type {Choice} */ best) => ({ replays: [best, given, ...why.replays], facts: own });
  give(reasons(searching(0)));
  const found = await slow.run('BestSearch', { item, hand }, ({ done }) => give(reasons(searching(done))), stop);
  const other = found.best ? withStroke(item, found.best.stroke) : item;
  const [trial, room] = await Promise.all([engine.ask('trial', { item: other, aim: false }), slow.ask('margins', { item: other, hand })]);
  give(reasons(bestChoice(found, trial, marginFacts(room, 'best stroke'))));
};
