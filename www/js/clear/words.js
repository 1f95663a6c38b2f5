// What Clear says: in the line under the table, in its lists, and to a screen reader.

import { told } from '../round/narrate.js';
import { zoneInWords } from '../table/zone.js';
import { ballOn, isOver } from './state.js';

/** @import { ClearChoice } from '../engine/protocol.js' */
/** @import { Line } from '../panels/lines.js' */
/** @import { Shot, State } from './state.js' */

/** A tip, as a fraction of the ball's radius. */
const TIP = 0.25;
/** @param {number} off @param {string} over @param {string} under */
function tips(off, over, under) {
  const quarters = Math.round((4 * Math.abs(off)) / TIP);
  const many = `${Math.floor(quarters / 4) || ''}${['', '¼', '½', '¾'][quarters % 4]} ${quarters > 4 ? 'tips' : 'tip'}`;
  return quarters === 0 ? [] : [`${many} ${off > 0 ? over : under}`];
}

/** Where the tip meets the cue ball, and how hard. @param {ClearChoice} choice */
const struckInWords = ({ stroke: { height, side }, lengths }) =>
  `${[...tips(height, 'high', 'low'), ...tips(side, 'right', 'left')].join(', ') || 'centre ball'}, ${lengths.toFixed(1)} lengths`;

const percent = (/** @type {number} */ chance) => Math.round(100 * chance);
const orUnknown = (/** @type {number | null} */ chance) => (chance === null ? '…' : String(percent(chance)));
/** @param {string} ball @param {string} pocket */
const into = (ball, pocket) => `the ${ball} in the ${pocket} pocket`;

/** Whether the cue ball stopped where it was called. @param {Shot | undefined} shot */
const heldInWords = (shot) => (shot?.held === true ? ' It stopped in your zone.' : shot?.held === false ? ' It stopped outside your zone.' : '');

/** The shot at hand in short. @param {State} state */
function atHand({ order, pocket, trial, zone, question, scale }) {
  const [on, next] = order;
  if (trial?.refusal) return trial.refusal;
  if (zone && question) return `${zoneInWords(zone, question.table, 10)}.`;
  const whither = pocket ? `Pot ${into(on, pocket)}` : `Tap a pocket for the ${on}`;
  if (!scale.length || !next) return `${whither}.`;
  return `${whither} and leave the cue ball for the ${next}: drag a zone if you like, set tip and speed, then Play.`;
}

/** What to do next, or what came of it. @param {State} state */
export function hint(state) {
  const { phase, question, now, zoning, shots, dealing, decided, again } = state;
  if (dealing) return 'Looking for a layout of this level…';
  if (!question || !now) return phase === 'stuck' ? '' : 'Setting up the table…';
  if (phase === 'playing' || phase === 'asking') return again ? 'The last shot again.' : 'The shot runs.';
  const last = shots.at(-1);
  const shot = shotInWords(state);
  if (shot) return shot;
  if (isOver(state)) return `${last?.words ?? ''}${heldInWords(last)} ${decided ? `${decided} Again or Deal?` : 'Looking where it was decided…'}`;
  const pointed = pointedInWords(state);
  if (pointed) return pointed;
  if (zoning) return `${zoneInWords(zoning, question.table, 10)}.`;
  const so = last && state.zone === null ? `${last.words}${heldInWords(last)} ` : '';
  if (ballOn(state) === null) return `${so || `${now.task} `}Tap the balls in the order in which you would pot them.`;
  return `${so}${atHand(state)}`;
}

/** The shots so far. @param {State} state @returns {Line[]} */
export const runLines = ({ shots }) =>
  shots.map(({ called, best, own, after, over, words, held }, k) => ({
    id: `shot-${k}`,
    label: `${k + 1} · the ${called.ball}, ${called.pocket}${held === null ? '' : held ? ' ✓' : ' ✗'}`,
    text: `${orUnknown(best)} / ${orUnknown(own)} / ${over && over !== 'cleared' ? 'over' : orUnknown(after)}`,
    spoken: `${words} ${heldInWords(shots[k])} With the best shot ${orUnknown(best)}, as called ${orUnknown(own)}, then ${orUnknown(after)} per cent`,
  }));

/** @param {string} id @param {string} label @param {ClearChoice} choice @returns {Line} */
const choiceLine = (id, label, choice) => {
  const { ball, pocket, words, chance } = choice;
  return { id, label: `${label}the ${ball}, ${pocket}`, text: `${percent(chance)} %`, spoken: `${words}, ${percent(chance)} per cent, ${struckInWords(choice)}` };
};

/** The plan, shot by shot. @param {State} state @returns {Line[]} */
export const planLines = ({ plan, shots }) =>
  plan?.shots.map((step, k) => {
    const line = choiceLine(`step-${k}`, `${shots.length + k + 1} · `, step);
    return step.breaks ? { ...line, spoken: `${line.spoken}. ${step.breaks}` } : line;
  }) ?? [];

/** The shot of the plan that can be played now, if there is one. @param {State} state */
export const nextOf = ({ plan }) => plan?.shots.slice(0, 1) ?? [];

/** The ways on from here, best first. @param {State} state @returns {(ClearChoice & { zone?: import('../engine/protocol.js').Zone | null })[]} */
export const waysOf = (state) => [...nextOf(state), ...(state.plan?.others ?? [])];

/** @param {State} state @returns {Line[]} */
export const wayLines = (state) => waysOf(state).map((way, k) => choiceLine(`way-${k}`, '', way));

/** Which entry of a list is pointed at, if any. @param {string | null} line @param {'shot' | 'step' | 'way'} kind */
export const pointedAt = (line, kind) => (line?.startsWith(`${kind}-`) ? Number(line.slice(kind.length + 1)) : null);

/** The chance of the plan: the low end of what runs have shown, else a first guess. @param {State} state @returns {[string, string]} */
export function chanceInWords({ plan, runs }) {
  if (runs) return [String(percent(runs.chance.low)), '% to clear at least'];
  return plan ? [String(percent(plan.chance)), '% to clear, a first guess'] : ['…', ''];
}

/** How far the plan is, and what is known of it. @param {State} state */
export function planInWords({ plan, fine, found, runs, race }) {
  if (!plan) return `Working it out: ${Math.round(100 * Math.min(found, 1))} %`;
  if (!fine) return 'A first plan; a finer one is being worked out.';
  const so = runs ? `Cleared ${runs.cleared} of ${runs.runs} runs: ${percent(runs.chance.low)} to ${percent(runs.chance.high)} %.` : 'Playing it out…';
  return race ? `${so} ${race}` : so;
}

/** The shot at hand beside the plan. @param {State} state */
export const ownInWords = ({ own, order, pocket, plan }) =>
  own === null || !plan || !pocket ? '' : `Your shot, ${into(order[0], pocket)}: ${percent(own)} %. The plan’s: ${percent(plan.shots[0]?.chance ?? 0)} %.`;

/** A shot that was played beside what the plan would have played. @param {State} state */
function shotInWords({ shots, line }) {
  const at = pointedAt(line, 'shot');
  const shot = at === null ? undefined : shots[at];
  if (!shot) return '';
  const better = shot.better ? ` The plan: ${shot.better.words.toLowerCase()}, ${orUnknown(shot.best)} %.` : '';
  return `Shot ${(at ?? 0) + 1}: ${into(shot.called.ball, shot.called.pocket)}, ${orUnknown(shot.own)} %.${better}`;
}

/** The shot of the plan or of What now that is pointed at. @param {State} state */
function pointedInWords(state) {
  const { plan, panel, line, shots } = state;
  if (panel === 'now') {
    const way = waysOf(state)[pointedAt(line, 'way') ?? -1];
    return way ? `${way.words}, ${struckInWords(way)}. Enter or a tap takes it over.` : '';
  }
  const at = pointedAt(line, 'step') ?? 0;
  const step = panel === 'plan' ? plan?.shots[at] : null;
  if (!step) return '';
  const so = at === 0 ? `Tap shot ${shots.length + 1} to take it over: ${into(step.ball, step.pocket)}` : step.words;
  return `${so}, ${struckInWords(step)}. The pot alone: ${percent(step.pot.share)} %.${step.breaks ? ` ${step.breaks}` : ''}`;
}

/** @param {State} state */
export function layout({ now, trial, order }) {
  if (!now) return '';
  const plays = order[0] ? [`To play: the ${order[0]}`] : [];
  return told([now.task, ...now.balls.map(({ words }) => words), ...plays, ...(trial ? [trial.stroke.words] : [])]);
}

/** What came of the last shot, and what is next. @param {State} state */
export function verdict(state) {
  const { shots, now, again } = state;
  const last = shots.at(-1);
  if (again || !last || !now) return again ? 'Seen again.' : '';
  const so = `${last.words}${heldInWords(last)}`;
  const cue = now.balls.find(({ id }) => id === 'cue');
  return isOver(state) ? so : told([so, ...(cue ? [cue.words] : []), now.task]);
}

/** What else changed. @param {State} state @param {State} before */
export function change(state, before) {
  const { zone, question, order, shots, panel, plan } = state;
  if (shots.length > before.shots.length) return verdict(state);
  if (shots.length < before.shots.length) return `Taken back. ${layout(state)}`;
  if (order !== before.order && shots === before.shots) return order.length ? `Your order: ${order.join(', ')}.` : 'No order.';
  if (zone !== before.zone && shots === before.shots) return zone && question ? `${zoneInWords(zone, question.table)}.` : 'No zone.';
  if (state.exact !== before.exact) return state.exact ? 'Played exactly.' : 'Played by the hand.';
  if (state.decided && state.decided !== before.decided) return state.decided;
  if (panel !== 'shot' && plan && (panel !== before.panel || state.fine !== before.fine || before.plan === null)) {
    const lines = panel === 'plan' ? planLines(state) : wayLines(state);
    return `${panel === 'plan' ? 'Plan' : 'What now'}: ${chanceInWords(state).join(' ')}. ${told(lines.map(({ label, spoken }) => `${label}: ${spoken}`))}`;
  }
  return '';
}
