// A round inset that shows, magnified, the spot under a finger.

import { set, svg } from './svg.js';

/** @import { Place } from '../engine/protocol.js' */
/** @import { Frame } from './frame.js' */

const RADIUS = 54;
const AWAY = 104;
const ZOOM = 2.2;

/** @param {SVGSVGElement} root @param {string} drawingId @param {readonly string[]} layers of the drawing, each by itself: a browser copies anew what changes, and that is not the table. */
export function createLoupe(root, drawingId, layers) {
  const hole = svg('circle', {});
  const paper = svg('circle', { class: 'loupe-paper' });
  const shown = (/** @type {string} */ layer) => svg('use', { href: `#${drawingId}-${layer}` });
  const flipped = svg('g', {}, ...layers.map(shown));
  const image = svg('g', {}, flipped, shown('notes'));
  const rim = svg('circle', { class: 'loupe-rim' });
  const cross = svg('path', { class: 'loupe-cross' });
  const group = svg('g', { class: 'loupe', 'aria-hidden': 'true', visibility: 'visible' },
    svg('clipPath', { id: `${drawingId}-hole` }, hole),
    paper,
    svg('g', { 'clip-path': `url(#${drawingId}-hole)` }, image, cross),
    rim);

  return {
    /** Shows a place on the table (m) larger, or nothing. @param {Frame} frame @param {Place | null | undefined} place */
    show({ box: [left, top, width, height], flip, px, toView }, place) {
      if (!place) return group.remove();
      const { x, y } = toView(place);
      const r = RADIUS * px;
      const away = AWAY * px;
      const clamp = (/** @type {number} */ v, /** @type {number} */ low, /** @type {number} */ high) => Math.min(high, Math.max(low, v));
      const above = y - away - r > top;
      // Near the top edge it goes beside the finger, toward the middle.
      const side = x > left + width / 2 ? -1 : 1;
      const cx = clamp(above ? x : x + side * away, left + r, left + width - r);
      const cy = clamp(above ? y - away : y, top + r, top + height - r);
      for (const circle of [hole, paper, rim]) set(circle, { r });
      set(flipped, { transform: flip });
      set(image, { transform: `scale(${ZOOM}) translate(${-x} ${-y})` });
      const arm = 12 * px;
      set(cross, { d: `M${-arm} 0H${arm}M0 ${-arm}V${arm}` });
      set(group, { transform: `translate(${cx} ${cy})` });
      if (!group.isConnected) root.append(group);
    },
  };
}
