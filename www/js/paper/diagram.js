// Draws an item for paper: to scale, with what is asked, and nothing that can be taken hold of.

import { drawAim } from '../path/call.js';
import { named, placerOver } from '../path/notes.js';
import { drawMarks, drawPockets } from '../stroke/drawing.js';
import { drawBalls } from '../table/balls.js';
import { frameOf } from '../table/frame.js';
import { mm, set, svg } from '../table/svg.js';
import { drawTabletop } from '../table/tabletop.js';
import { drawZone } from '../table/zone.js';

/** @import { Frame } from '../table/frame.js' */
/** @import { Facts } from './facts.js' */

/** What the drawing takes for a pixel, mm of paper: letters of 11 pixels are 2.2 mm high (tuning choice). */
const PIXEL = 0.2;
/** Scales that a ruler can be held to, one to so many. */
const SCALES = [10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 36, 40, 50, 60, 80, 100];

/** @typedef {Pick<Facts, 'table' | 'balls' | 'aim' | 'demand'>} Drawn */

/** How the table lies on paper: `scale` millimetres of the table on one of the paper. @param {Facts['table']} table @param {number} scale @returns {Frame} */
export const paperFrame = (table, scale) => ({ ...frameOf(table, false, 1, 1), px: PIXEL * scale });

/** The largest scale at which the table is no wider than that, mm. @param {Facts['table']} table @param {number} width */
export function scaleFor(table, width) {
  const long = paperFrame(table, 1).box[2];
  return SCALES.find((scale) => long / scale <= width) ?? Math.ceil(long / width);
}

/**
 * The layers of the table on paper, empty.
 * @template {string} L
 * @param {string} id Of the drawing, on its page. @param {Frame} frame @param {readonly L[]} names
 */
export function layersOf(id, frame, names) {
  const layers = /** @type {Record<L, SVGGElement>} */ ({});
  for (const name of names) layers[name] = svg('g', { class: name });
  const notes = svg('g', { class: 'notes' });
  const root = svg('svg', { id, viewBox: frame.box.join(' '), 'aria-hidden': 'true' }, svg('g', { transform: frame.flip }, ...Object.values(layers)), notes);
  return { root, layers, notes };
}

/** @param {string} id @param {Drawn} drawn @param {number} scale */
export function drawDiagram(id, { table, balls, aim, demand }, scale) {
  const frame = paperFrame(table, scale);
  const r = mm(table.ballRadius);
  const { root, layers, notes } = layersOf(id, frame, ['tabletop', 'pockets', 'zones', 'was', 'aim', 'marks', 'balls']);
  const [, , long, short] = frame.box;
  set(root, { width: `${long / scale}mm`, height: `${short / scale}mm` });
  drawTabletop(layers.tabletop, table, frame);
  drawPockets(layers.pockets, table.pockets, demand.pocket ?? null, false);
  drawZone(layers.zones, demand.zone, table, frame, false);
  if (aim) drawAim(layers.aim, aim, r);
  drawMarks(layers.marks, balls, demand, frame, r);
  drawBalls(layers.balls, layers.was, { table, balls, ghost: aim?.ghost ?? null, tracks: [], clock: 0 }, frame);
  const { on, next, zone } = demand;
  const lines = aim ? [aim.path, aim.pocketPath] : [];
  const placer = placerOver({ table, places: [...balls, ...(aim ? [aim.ghost] : []), ...(zone ? [zone] : [])], lines }, frame);
  for (const [ball, text] of /** @type {const} */ ([[on, 'on'], [next, 'next']])) {
    const place = balls.find(({ id: one }) => one === ball);
    if (place) notes.append(...named('note thin', text, place, frame, placer));
  }
  return root;
}
