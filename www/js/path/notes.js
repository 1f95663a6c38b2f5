// The short texts on the drawing: dimensions of a grade, and names of places.

import { drawDimension } from '../table/dimension.js';
import { createPlacer } from '../table/labels.js';
import { mm, svg } from '../table/svg.js';
import { isNumbered, numeralAt } from '../table/tabletop.js';

/** @import { Grade, Pair, Place, Table } from '../engine/protocol.js' */
/** @import { Frame } from '../table/frame.js' */
/** @import { Placer, Spot } from '../table/labels.js' */

/** Size of the notes on the drawing, CSS pixels. */
const NOTE = 12;
const NAME = 11;

/** What is on the table, which a text is to stand clear of: balls by their places, and lines. @typedef {{ table: Table, places: readonly Place[], lines: readonly (readonly Pair[])[] }} Seen */

/** The lines whose dimensions are drawn: of the arcs, which would cover one another, the first and the one pointed at. @param {Grade} grade @param {string | null} line */
function drawnLines({ lines }, line) {
  const arc = lines.find(({ dimension }) => dimension?.kind === 'arc');
  return lines.filter((one) => one.dimension && (one.dimension.kind === 'line' || one === arc || one.id === line));
}

/** @param {Seen} seen @param {Frame} frame */
export function placerOver({ table, places, lines }, frame) {
  const placer = createPlacer(frame.box, NOTE * frame.px);
  for (const place of places) placer.avoid(frame.toView(place), mm(table.ballRadius));
  for (const hole of table.pockets) placer.avoid(frame.toView(hole), mm(hole.r));
  for (const sight of table.sights) {
    for (const [x, y] of isNumbered(frame) ? [sight, numeralAt(sight, table)] : [sight]) placer.avoid(frame.toView({ x, y }), 10);
  }
  for (const line of [...lines, table.outline]) placer.avoidLine(line.map(([x, y]) => frame.toView({ x, y })));
  return placer;
}

/**
 * Names a place where there is room for a name; where there is none, only what `must` be named, over what hides least.
 * @param {string} name @param {string} text @param {Place} place @param {Frame} frame @param {Placer} placer
 */
export function named(name, text, place, frame, placer, must = false) {
  const { x, y } = frame.toView(place);
  const spots = [9, 16, 26].flatMap((gap) => {
    const far = gap * frame.px;
    return /** @type {Spot[]} */ ([
      { x: x + far, y, anchor: 'start' },
      { x: x - far, y, anchor: 'end' },
      { x: x + 0.7 * far, y: y - far, anchor: 'start' },
      { x: x + 0.7 * far, y: y + far, anchor: 'start' },
      { x: x - 0.7 * far, y: y - far, anchor: 'end' },
      { x: x - 0.7 * far, y: y + far, anchor: 'end' },
      { x, y: y - 1.4 * far, anchor: 'middle' },
      { x, y: y + 1.4 * far, anchor: 'middle' },
    ]);
  });
  const spot = must ? placer.place(text, spots) : placer.free(text, spots);
  if (!spot) return [];
  return [svg('text', { class: name, x: spot.x, y: spot.y, dy: '0.36em', 'font-size': NAME * frame.px, 'text-anchor': spot.anchor }, text)];
}

/**
 * The dimensions of a grade; the line that is pointed at is lit.
 * @param {Grade} grade @param {string | null} line @param {Table} table @param {Frame} frame @param {Placer} placer
 */
export function dimensions(grade, line, table, frame, placer) {
  const weight = (/** @type {string} */ id) => (line === null ? '' : line === id ? ' lit' : ' dim');
  return drawnLines(grade, line).map(({ id, dimension }) =>
    svg('g', { class: `dimension${weight(id)}` },
      ...(dimension ? drawDimension(dimension, table, frame, placer, NOTE * frame.px) : [])));
}
