// The map: chances over the table as a heat map, the line of one chance, and the legend. Numbers come from the core.

import { mm, set, svg } from './svg.js';

/** @import { Table } from '../engine/protocol.js' */

/**
 * Chances (0 to 1) in rows along the table's length, from the head and from the right rail; not a number where no cue ball
 * can lie.
 * @typedef {{ columns: number, rows: number, chances: Float64Array }} Heat
 */

/**
 * Cividis in nine steps, dark to light: perceptually uniform, and the same to who does not tell red from green.
 * Source: Nunez, Anderton and Renslow 2018, PLoS ONE 13(7), e0199239; the steps from memory.
 * @type {readonly (readonly [number, number, number])[]}
 */
const SCALE = [[0, 34, 78], [18, 53, 112], [59, 73, 108], [87, 93, 109], [112, 113, 115], [138, 134, 120], [165, 156, 116], [195, 179, 105], [254, 232, 56]];
const OPAQUE = 215;

/** @param {number} chance @returns {[number, number, number]} */
function colour(chance) {
  const place = Math.min(1, Math.max(0, chance)) * (SCALE.length - 1);
  const k = Math.min(SCALE.length - 2, Math.floor(place));
  const [a, b] = [SCALE[k], SCALE[k + 1]];
  const mix = (/** @type {0 | 1 | 2} */ n) => Math.round(a[n] + (place - k) * (b[n] - a[n]));
  return [mix(0), mix(1), mix(2)];
}

/** The map as a picture of one pixel a cell. @param {Heat} heat */
function picture({ columns, rows, chances }) {
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [columns, rows];
  const context = canvas.getContext('2d');
  if (!context) return '';
  const image = context.createImageData(columns, rows);
  chances.forEach((chance, k) => Number.isFinite(chance) && image.data.set([...colour(chance), OPAQUE], 4 * k));
  context.putImageData(image, 0, 0);
  return canvas.toDataURL();
}

/** The lines on which the chance is `level`, as path data. @param {Heat} heat @param {Table} table @param {number} level */
export function contour({ columns, rows, chances }, { length, width }, level) {
  const at = (/** @type {number} */ c, /** @type {number} */ r) => chances[r * columns + c];
  const spot = (/** @type {number} */ c, /** @type {number} */ r) => `${mm(((c + 0.5) * length) / columns)} ${mm(((r + 0.5) * width) / rows)}`;
  let d = '';
  for (let r = 0; r + 1 < rows; r++) {
    for (let c = 0; c + 1 < columns; c++) {
      /** @type {[number, number][]} */
      const corners = [[c, r], [c + 1, r], [c + 1, r + 1], [c, r + 1]];
      const values = corners.map(([x, y]) => at(x, y));
      if (!values.every(Number.isFinite)) continue;
      const crossings = corners.flatMap(([x, y], k) => {
        const [a, b, [nx, ny]] = [values[k], values[(k + 1) % 4], corners[(k + 1) % 4]];
        if (a >= level === b >= level) return [];
        const share = (level - a) / (b - a);
        return [spot(x + share * (nx - x), y + share * (ny - y))];
      });
      for (let k = 0; k + 1 < crossings.length; k += 2) d += `M${crossings[k]}L${crossings[k + 1]}`;
    }
  }
  return d;
}

/** @param {SVGGElement} group @param {Heat | null} heat @param {Table} table @param {number} level */
export function drawHeat(group, heat, table, level) {
  if (!heat) return group.replaceChildren();
  if (group.childElementCount === 0) group.append(svg('image', { class: 'heat', x: 0, y: 0, preserveAspectRatio: 'none' }), svg('path', { class: 'contour-under' }), svg('path', { class: 'contour' }));
  const [image, ...lines] = group.children;
  set(image, { width: mm(table.length), height: mm(table.width), href: picture(heat) });
  const d = contour(heat, table, level);
  for (const line of lines) set(line, { d });
}

/** The scale from 0 to 100. @param {SVGSVGElement} legend */
export function drawScale(legend) {
  const step = 100 / SCALE.length;
  legend.replaceChildren(...SCALE.map((rgb, k) => svg('rect', { x: k * step, y: 0, width: step + 0.3, height: 8, fill: `rgb(${rgb.join(' ')})` })));
}
