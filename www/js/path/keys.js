// The keyboard on a handle: arrows move it, Enter adds a point behind it, Delete takes it away.

import { isFull, moved, placed, removed, selected } from './state.js';
import { ARROWS, STEP, onTable, stepOf } from '../table/frame.js';

/** @import { Pair, Place } from '../engine/protocol.js' */
/** @import { PathModel } from './state.js' */
/** @import { Snap } from './snap.js' */
/** @import { Board } from '../table/sheet.js' */

/**
 * What a path goes on from: the ghost ball, a place on the cue ball's way to it, and the table's size. Null while no
 * path is drawn.
 * @typedef {{ ghost: Place, from: Pair, table: { length: number, width: number } } | null} Start
 */

/** How far beyond the last point a new one starts, m. */
const AHEAD = 0.3;

/**
 * @param {SVGSVGElement} root @param {PathModel} model @param {Board} view @param {Snap} snap @param {() => Start} startOf
 * @param {() => void} full Says that there is no room for another point.
 */
export function listenToPathKeys(root, model, view, snap, startOf, full) {
  let busy = false;

  /** Which handle the keyboard is on: the index of a point, -1 for the ghost ball. @param {Event} event */
  function handleOf(event) {
    const name = event.target instanceof Element ? event.target.getAttribute('data-handle') : null;
    const at = name === 'ghost' ? -1 : Number(name ?? NaN);
    return Number.isNaN(at) ? null : at;
  }

  /** @param {number} at @param {[number, number]} arrow @param {KeyboardEvent} event */
  async function move(at, arrow, event) {
    const point = model.state.points[at];
    if (!point || !view.frame || busy) return;
    const step = stepOf(event);
    const way = onTable(view.frame, ...arrow);
    const place = { x: point.x + step * way.x, y: point.y + step * way.y };
    // A rail holds a point that moves along it, and takes one that comes within a step.
    busy = true;
    const next = await snap({ place, snap: model.state.snap, reach: 0.6 * step });
    busy = false;
    if (next) model.change(moved, next, at);
  }

  /** Half-way to the next point, or straight on behind the last. @param {number} at @returns {Place | null} */
  function behind(at) {
    const start = startOf();
    const { points } = model.state;
    if (!start) return null;
    const { ghost, from, table } = start;
    const here = points[at] ?? ghost;
    const next = points[at + 1];
    if (next) return { x: (here.x + next.x) / 2, y: (here.y + next.y) / 2 };
    const [x, y] = from;
    const before = at > 0 ? points[at - 1] : at === 0 ? ghost : { x, y };
    const span = Math.hypot(here.x - before.x, here.y - before.y) || 1;
    const { length, width } = table;
    // From a rail it goes toward the middle, where there is room.
    const way = points[at]?.rail ? { x: length / 2 - here.x, y: width / 2 - here.y } : { x: here.x - before.x, y: here.y - before.y };
    const far = points[at]?.rail ? Math.hypot(way.x, way.y) || 1 : span;
    return { x: here.x + (AHEAD * way.x) / far, y: here.y + (AHEAD * way.y) / far };
  }

  /** @param {number} at */
  async function addBehind(at) {
    if (isFull(model.state)) return full();
    const place = behind(at);
    const point = place && (await snap({ place, snap: model.state.snap, reach: 0.6 * STEP }));
    if (!point) return;
    model.change(placed, point, at + 1, true);
    view.focus(at + 1);
  }

  root.addEventListener('keydown', (event) => {
    const at = handleOf(event);
    if (at === null || !startOf() || event.ctrlKey || event.metaKey || event.altKey) return;
    const arrow = ARROWS[event.key];
    if (arrow && at >= 0) {
      event.preventDefault();
      void move(at, arrow, event);
    } else if (event.key === 'Enter') {
      event.preventDefault();
      void addBehind(at);
    } else if (event.key === ' ') {
      event.preventDefault();
      if (at >= 0) model.change(selected, model.state.selected === at ? null : at);
    } else if ((event.key === 'Delete' || event.key === 'Backspace') && at >= 0) {
      event.preventDefault();
      model.change(removed, at);
      view.focus(at > 0 ? at - 1 : 'ghost');
    } else if (event.key === 'Escape') {
      model.change(selected, null);
    }
  });
}
