// The one drawing of a part: its layers on the table, and how the table lies in it.

import { frameOf } from './frame.js';
import { createLoupe } from './loupe.js';
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
