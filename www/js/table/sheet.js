// The one drawing of a part: its layers on the table, how the table lies in it, and a loupe for fingers.

import { frameOf } from './frame.js';
import { set, svg } from './svg.js';

/** @import { Place, Table } from '../engine/protocol.js' */
/** @import { Frame } from './frame.js' */

/**
 * What those who listen on the drawing need of it: how the table lies in it, where a pointer is on the table (m), and how the
 * keyboard is put on a handle, as soon as that is drawn.
 * @typedef {{ readonly frame: Frame | null, placeOf(event: { clientX: number, clientY: number }): Place | null, focus(handle: string | number): void }} Board
 */

/** The media in which the table stands on end. */
const UPRIGHT = '(max-aspect-ratio: 4/5)';

/** The loupe, CSS pixels: its size, how far from the finger it is; and how much larger it shows. */
const RADIUS = 54;
const AWAY = 104;
const ZOOM = 2.2;

/** A round inset that shows, magnified, the spot under a finger. @param {SVGSVGElement} root @param {string} drawingId @param {readonly string[]} layers of the drawing, each by itself: a browser copies anew what changes, and that is not the table. */
function createLoupe(root, drawingId, layers) {
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

/**
 * @template {string} L
 * @param {SVGSVGElement} root @param {string} id of the drawing in it @param {readonly L[]} names Its layers, from the table up.
 * @param {{ schedule(): void, flush?(): void }} drawing `schedule` is asked when the drawing has to be framed anew, `flush`
 *   when all has to be drawn at once: when it is first seen, still in the frame that shows it, and before a handle is focused.
 */
export function createSheet(root, id, names, { schedule, flush = schedule }) {
  const upright = matchMedia(UPRIGHT);
  const layers = /** @type {Record<L, SVGGElement>} */ ({});
  const flipped = svg('g', {});
  for (const name of names) flipped.append((layers[name] = svg('g', { class: name, id: `${id}-${name}` })));
  const notes = svg('g', { class: 'notes', id: `${id}-notes` });
  root.append(svg('g', { id }, flipped, notes));
  const loupe = createLoupe(root, id, names);

  /** @param {string | number} handle */
  function refocus(handle) {
    const element = root.querySelector(`[data-handle="${handle}"]`);
    if (element instanceof SVGElement) element.focus();
  }

  /** @type {Frame | null} */
  let frame = null;
  let stale = true;
  /** CSS pixels, as the browser tells them: to ask would have it lay out the page in the middle of a drawing. */
  let size = { width: 0, height: 0 };

  const isSeen = () => size.width > 0 && size.height > 0;
  new ResizeObserver((entries) => {
    const draw = isSeen() ? schedule : flush;
    for (const { contentRect } of entries) size = contentRect;
    stale = true;
    if (isSeen()) draw();
  }).observe(root);
  upright.addEventListener('change', () => {
    stale = true;
    schedule();
  });

  /** @type {Board} */
  const board = {
    get frame() {
      return frame;
    },

    placeOf({ clientX, clientY }) {
      const matrix = flipped.getScreenCTM();
      if (!matrix) return null;
      const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(matrix.inverse());
      return { x: x / 1000, y: y / 1000 };
    },

    focus(handle) {
      flush();
      refocus(handle);
    },
  };

  return {
    layers,
    notes,
    loupe,
    board,

    /** Lays the table into the drawing if that is due, or `fresh`; says whether it did. @param {Table} table @param {boolean} fresh */
    reframe(table, fresh) {
      if (!stale && !fresh) return false;
      stale = false;
      const held = root.contains(document.activeElement) && document.activeElement?.getAttribute('data-handle');
      // What has the keyboard may be drawn anew: it has it again once all is drawn.
      if (held) queueMicrotask(() => document.activeElement === document.body && refocus(held));
      if (!isSeen()) return true;
      frame = frameOf(table, upright.matches, size.width, size.height);
      set(root, { viewBox: frame.box.join(' ') });
      root.classList.toggle('standing', frame.standing);
      root.classList.toggle('lying', !frame.standing);
      set(flipped, { transform: frame.flip });
      return true;
    },
  };
}

/**
 * @template {string} L
 * @typedef {ReturnType<typeof createSheet<L>>} Sheet
 */
