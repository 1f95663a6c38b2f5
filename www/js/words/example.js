// Draws a word's example: the shots as the core played them, and what it marks on them.

import { named, placerOver } from '../path/notes.js';
import { drawBalls } from '../table/balls.js';
import { drawDimension } from '../table/dimension.js';
import { frameOf } from '../table/frame.js';
import { mm, pathData, set, svg } from '../table/svg.js';
import { drawTabletop } from '../table/tabletop.js';
import { drawZone } from '../table/zone.js';

/** @import { Pair, Place, Table } from '../engine/protocol.js' */
/** @import { Frame } from '../table/frame.js' */
/** @import { Mark, Run, Word } from './glossary.js' */

/** Size of the notes, CSS pixels. */
const NOTE = 12;
/** What a drawing from near shows, mm. */
const NEAR = { width: 1300, height: 720 };

const LAYERS = /** @type {const} */ (['tabletop', 'zones', 'was', 'aim', 'outcome', 'balls']);

/** @param {Pair} place @returns {Place} */
const spot = ([x, y]) => ({ x, y });

/** @param {Table} table @param {Pair | null} near @param {number} width @param {number} height @returns {Frame} */
function frameFor(table, near, width, height) {
  const whole = frameOf(table, false, width, height);
  if (!near) return whole;
  const { x, y } = whole.toView(spot(near));
  const [left, top, long, short] = whole.box;
  const within = (/** @type {number} */ at, /** @type {number} */ low, /** @type {number} */ size, /** @type {number} */ part) =>
    Math.min(Math.max(at - part / 2, low), low + size - part);
  return {
    ...whole,
    box: [within(x, left, long, NEAR.width), within(y, top, short, NEAR.height), NEAR.width, NEAR.height],
    px: Math.max(NEAR.width / width, NEAR.height / height),
  };
}

/** @param {Run} run @param {number} r Ball's radius, mm. @param {number} px */
function drawMain({ approach, path, others, ghost, touches, stop }, r, px) {
  const real = path.length ? path : approach;
  return {
    aim: [
      ...others.map((line) => svg('path', { class: 'pocket-path', d: pathData(line) })),
      ...(path.length ? [svg('path', { class: 'aim', d: pathData(approach) })] : []),
      ...(ghost ? [svg('circle', { class: 'ghost', cx: mm(ghost[0]), cy: mm(ghost[1]), r })] : []),
    ],
    outcome: [
      svg('path', { class: 'real', d: pathData(real) }),
      ...touches.map(([x, y]) => svg('circle', { class: 'real-touch', cx: mm(x), cy: mm(y), r: 3.2 * px })),
      svg('circle', { class: 'was', cx: mm(stop[0]), cy: mm(stop[1]), r }),
    ],
  };
}

/** @param {Run} run @param {number} r */
const drawBeside = ({ approach, path, others, stop }, r) => [
  ...[approach, path, ...others].filter((line) => line.length > 1).map((line) => svg('path', { class: 'replayed', d: pathData(line) })),
  ...[approach[0], stop].map(([x, y]) => svg('circle', { class: 'replayed', cx: mm(x), cy: mm(y), r })),
];

/** @param {SVGGElement} notes @param {Word} word @param {Table} table @param {Frame} frame */
function drawNotes(notes, { balls, runs, marks }, table, frame) {
  // A name may stand on a thin line: its halo keeps it legible.
  const [{ approach, path }] = runs;
  const lines = [approach, path, ...marks.flatMap((one) => (one.kind === 'line' ? [[one.from, one.to]] : []))];
  const placer = placerOver({ table, places: [...balls, ...runs.map(({ stop }) => spot(stop))], lines }, frame);
  /** @param {Mark} mark */
  const drawn = (mark) => {
    if (mark.kind === 'angle') return [svg('g', { class: 'dimension' }, ...drawDimension(mark.dimension, table, frame, placer, NOTE * frame.px))];
    return mark.kind === 'name' ? named('note', mark.text, spot(mark.at), frame, placer) : [];
  };
  notes.replaceChildren(...marks.flatMap(drawn));
}

/** @param {SVGSVGElement} root @param {Table} table */
export function createExample(root, table) {
  const layers = /** @type {Record<typeof LAYERS[number], SVGGElement>} */ ({});
  const flipped = svg('g', {});
  for (const name of LAYERS) flipped.append((layers[name] = svg('g', { class: name })));
  const notes = svg('g', { class: 'notes' });
  root.append(flipped, notes);
  let size = { width: 0, height: 0 };
  /** @type {Word | null} */
  let shown = null;

  function draw() {
    if (!shown || size.width === 0 || size.height === 0) return;
    const { balls, runs, marks, near } = shown;
    const frame = frameFor(table, near, size.width, size.height);
    const r = mm(table.ballRadius);
    set(root, { viewBox: frame.box.join(' ') });
    set(flipped, { transform: frame.flip });
    for (const layer of Object.values(layers)) layer.replaceChildren();
    drawTabletop(layers.tabletop, table, frame);
    const [main, ...beside] = runs;
    const { aim, outcome } = drawMain(main, r, frame.px);
    const lines = marks.flatMap((one) => (one.kind === 'line' ? [svg('path', { class: 'tangent', d: pathData([one.from, one.to]) })] : []));
    layers.aim.append(...lines, ...aim);
    layers.outcome.append(...beside.flatMap((run) => drawBeside(run, r)), ...outcome);
    drawZone(layers.zones, marks.find((one) => one.kind === 'zone')?.zone, table, frame, false);
    const ghost = main.ghost && spot(main.ghost);
    drawBalls(layers.balls, layers.was, { table, balls, ghost, tracks: [], clock: 0 }, frame);
    drawNotes(notes, shown, table, frame);
  }

  new ResizeObserver((entries) => {
    for (const { contentRect } of entries) size = contentRect;
    draw();
  }).observe(root);

  /** @param {Word} word */
  return (word) => {
    shown = word;
    draw();
  };
}
