// Draws errors as a draughtsman draws dimensions: arcs and lines with arrows, and a text beside them.

import { svg } from './svg.js';

/** @import { ArcDimension, Dimension, LineDimension, Pair, Place, Table } from '../engine/protocol.js' */
/** @import { Frame } from './frame.js' */
/** @import { Placer, Spot } from './labels.js' */

/** @typedef {{ lines: string, arrows: string, middle: Place, normal: Place, reach: number }} Drawing All in the view box. */

const turn = (/** @type {Place} */ { x, y }) => ({ x: -y, y: x });
const to = (/** @type {Place} */ a, /** @type {Place} */ b) => {
  const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  return { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
};
const add = (/** @type {Place} */ a, /** @type {Place} */ b, /** @type {number} */ k) => ({ x: a.x + k * b.x, y: a.y + k * b.y });
const at = (/** @type {Place} */ { x, y }) => `${x.toFixed(1)} ${y.toFixed(1)}`;

/** An arrowhead with its tip at `tip`, looking along `along`. @param {Place} tip @param {Place} along @param {number} px */
function arrow(tip, along, px) {
  const back = add(tip, along, -7 * px);
  return `M${at(tip)}L${at(add(back, turn(along), 2.4 * px))}L${at(add(back, turn(along), -2.4 * px))}Z`;
}

/** The way out of the table where both ends lie behind the same nose line, or null. @param {LineDimension} line @param {Table} table */
function outward({ from, to: end }, { length, width }) {
  const both = (/** @type {(p: readonly [number, number]) => boolean} */ test) => test(from) && test(end);
  if (both(([x]) => x < 0)) return { x: -1, y: 0 };
  if (both(([x]) => x > length)) return { x: 1, y: 0 };
  if (both(([, y]) => y < 0)) return { x: 0, y: -1 };
  if (both(([, y]) => y > width)) return { x: 0, y: 1 };
  return null;
}

/** @param {LineDimension} line @param {Table} table @param {Frame} frame @returns {Drawing} */
function drawLine(line, table, frame) {
  const { px, toView } = frame;
  const out = outward(line, table);
  const [a, b] = [line.from, line.to].map(([x, y]) => toView({ x, y }));
  // An error along a rail stands on the cushion; extension lines lead to it from the touches.
  const onTouch = (/** @type {Pair} */ [x, y]) => ({
    x: Math.min(table.length - table.touch, Math.max(table.touch, x)),
    y: Math.min(table.width - table.touch, Math.max(table.touch, y)),
  });
  const [c, d] = [line.from, line.to].map(onTouch).map(toView);
  const along = to(a, b);
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const inside = length > 22 * px;
  const tails = inside ? '' : `M${at(a)}L${at(add(a, along, -16 * px))}M${at(b)}L${at(add(b, along, 16 * px))}`;
  const extensions = out ? `M${at(c)}L${at(add(a, to(c, a), 4 * px))}M${at(d)}L${at(add(b, to(d, b), 4 * px))}` : '';
  const ends = inside
    ? arrow(a, add({ x: 0, y: 0 }, along, -1), px) + arrow(b, along, px)
    : arrow(a, along, px) + arrow(b, add({ x: 0, y: 0 }, along, -1), px);
  const normal = out ? to(c, a) : turn(along);
  return {
    lines: `M${at(a)}L${at(b)}${tails}${extensions}`,
    arrows: length > 0.5 ? ends : '',
    middle: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 },
    normal,
    reach: length / 2 + (inside ? 0 : 18 * px),
  };
}

/** @param {ArcDimension} arc @param {Frame} frame @returns {Drawing} */
function drawArc({ centre: [x, y], radius, from, to: end }, { px, toView }) {
  const sweep = ((((end - from) % 360) + 540) % 360) - 180;
  const on = (/** @type {number} */ degrees, r = radius) => {
    const angle = (degrees * Math.PI) / 180;
    return toView({ x: x + r * Math.cos(angle), y: y + r * Math.sin(angle) });
  };
  const steps = Math.max(2, Math.ceil(Math.abs(sweep) / 4));
  const points = Array.from({ length: steps + 1 }, (_, k) => on(from + (sweep * k) / steps));
  const [a, b] = [points[0], points[steps]];
  const length = (Math.abs(sweep) * Math.PI * radius * 1000) / 180;
  const inside = length > 22 * px;
  const [startWay, endWay] = [to(points[1], a), to(points[steps - 1], b)];
  const ends = inside
    ? arrow(a, startWay, px) + arrow(b, endWay, px)
    : arrow(a, add({ x: 0, y: 0 }, startWay, -1), px) + arrow(b, add({ x: 0, y: 0 }, endWay, -1), px);
  const tails = inside ? '' : `M${at(a)}L${at(add(a, startWay, 16 * px))}M${at(b)}L${at(add(b, endWay, 16 * px))}`;
  const over = 0.006 * px;
  const legs = [from, end].map((degrees) => `M${at(on(degrees, radius - over))}L${at(on(degrees, radius + over))}`).join('');
  const middle = on(from + sweep / 2);
  return {
    lines: `M${points.map(at).join('L')}${tails}${legs}`,
    arrows: length > 0.5 ? ends : '',
    middle,
    normal: to(toView({ x, y }), middle),
    reach: 0,
  };
}

/** Places around a dimension where its text may stand. @param {Drawing} drawing @param {number} px @returns {Spot[]} */
function spots({ middle, normal, reach }, px) {
  const along = turn(normal);
  /** @param {Place} way @param {number} far @returns {Spot} */
  const spot = (way, far) => {
    const anchor = way.x > 0.4 ? 'start' : way.x < -0.4 ? 'end' : 'middle';
    return { ...add(middle, way, far), anchor };
  };
  const back = { x: -normal.x, y: -normal.y };
  const rear = { x: -along.x, y: -along.y };
  return [11, 16, 24, 38].flatMap((far) => [
    spot(normal, far * px),
    spot(back, far * px),
    spot(along, reach + far * px),
    spot(rear, reach + far * px),
  ]);
}

/**
 * @param {Dimension} dimension @param {Table} table @param {Frame} frame @param {Placer} placer @param {number} size
 */
export function drawDimension(dimension, table, frame, placer, size) {
  const drawing = dimension.kind === 'line' ? drawLine(dimension, table, frame) : drawArc(dimension, frame);
  const { x, y, anchor } = placer.place(dimension.text, spots(drawing, frame.px));
  return [
    svg('path', { class: 'measure', d: drawing.lines }),
    svg('path', { class: 'arrow', d: drawing.arrows }),
    svg('text', { class: 'note', x, y, dy: '0.36em', 'font-size': size, 'text-anchor': anchor }, dimension.text),
  ];
}
