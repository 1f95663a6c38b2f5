// The map: chances over the table as colours, the line of one chance, and the legend. The core finds and draws them.

import { latest } from '../latest.js';
import { mm, set, svg } from './svg.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { MapRequest, Table } from '../engine/protocol.js' */

/** What a map shows: whether all its chances are proved, and the line of one chance as path data. @typedef {{ rough: boolean, line: string }} Heat */

/** Places along and across the table. */
const COLUMNS = 64;
const ROWS = 32;

/**
 * The map under a drawing: the first engine draws, all of them share the work. Engines must keep no other map.
 * @param {SVGSVGElement} root @param {readonly Engine[]} engines @param {(heat: Heat) => void} told
 * @param {(error: unknown) => void} failed
 */
export function createHeat(root, engines, told, failed) {
  /** @type {HTMLCanvasElement | null} */
  let canvas = null;
  let given = new AbortController();
  let chances = new Float64Array(COLUMNS * ROWS);
  let [level, rough] = [0.5, true];

  const drawings = latest(async () => {
    /** @type {OffscreenCanvas | null} */
    let fresh = null;
    if (!canvas) {
      canvas = Object.assign(document.createElement('canvas'), { className: 'heat', hidden: true });
      root.before(canvas);
      fresh = canvas.transferControlToOffscreen();
    }
    const now = rough;
    try {
      const line = await engines[0].draw({ job: 'ChanceMap', canvas: fresh, chances, level });
      told({ rough: now, line });
    } catch (error) {
      fail(error);
    }
  });

  /** A worker that fails takes the canvas with it. @param {unknown} error */
  function fail(error) {
    given.abort();
    canvas?.remove();
    canvas = null;
    failed(error);
  }

  return {
    /**
     * Shows what is known at once, as far as it is asked for; where all `rests`, goes on to what is proved. Resolves when
     * the first is known, so that another may be asked for.
     * @param {Omit<MapRequest, 'columns' | 'rows' | 'share' | 'of'>} request @param {boolean} rests
     */
    async show(request, rests) {
      given.abort();
      given = new AbortController();
      const { signal } = given;
      const found = new Float64Array(COLUMNS * ROWS);
      const proved = new Uint8Array(COLUMNS * ROWS);
      const done = engines.map(() => -1);
      const first = engines.map((engine, share) => new Promise((arrived) => {
        /** @param {import('../engine/protocol.js').MapProgress} progress */
        const take = (progress) => {
          progress.cells.forEach((cell, k) => {
            const chance = progress.chances[k];
            // Each engine finds rough chances into some of the pockets: the best counts.
            if (!progress.rough) [found[cell], proved[cell]] = [chance, 1];
            else if (!proved[cell]) found[cell] = Math.max(found[cell], chance);
          });
          done[share] = progress.done;
          arrived(null);
          if (!rests || done.includes(-1) || (progress.cells.length === 0 && progress.done < 1)) return;
          [chances, rough] = [found, done.some((part) => part < 1)];
          drawings.push(null);
        };
        const asked = { ...request, columns: COLUMNS, rows: ROWS, share, of: engines.length };
        engine.run('ChanceMap', asked, take, signal).then(take, (error) => {
          arrived(null);
          if (!signal.aborted) fail(error);
        });
      }));
      await Promise.all(first);
      if (!rests && !signal.aborted) {
        given.abort();
        [chances, rough] = [found, true];
        drawings.push(null);
      }
    },

    /** Another chance to draw the line of. @param {number} chance */
    line(chance) {
      level = chance;
      if (canvas) drawings.push(null);
    },

    stop: () => given.abort(),

    /** Lays the canvas under the table, or takes it away. @param {SVGGElement} group @param {Table} table @param {boolean} shown */
    place(group, { length, width, touch }, shown) {
      const [matrix, stage] = [group.getScreenCTM(), root.parentElement?.getBoundingClientRect()];
      if (!canvas || !matrix || !stage) return;
      canvas.hidden = !shown;
      const { a, b, c, d, e, f } = matrix;
      Object.assign(canvas.style, {
        width: `${mm(length - 2 * touch)}px`,
        height: `${mm(width - 2 * touch)}px`,
        transform: `matrix(${[a, b, c, d, e - stage.left, f - stage.top]}) translate(${mm(touch)}px, ${mm(touch)}px)`,
      });
    },
  };
}

/** The line of the chosen chance. @param {SVGGElement} group @param {Heat | null} heat */
export function drawLine(group, heat) {
  if (group.childElementCount === 0) group.append(svg('path', { class: 'contour-under' }), svg('path', { class: 'contour' }));
  for (const line of group.children) set(line, { d: heat?.line ?? '' });
}

/** The scale from 0 to 100. @param {SVGSVGElement} legend @param {readonly string[]} colours */
export function drawScale(legend, colours) {
  const step = 100 / colours.length;
  legend.replaceChildren(...colours.map((fill, k) => svg('rect', { x: k * step, y: 0, width: step + 0.3, height: 8, fill })));
}

/** @typedef {ReturnType<typeof createHeat>} HeatMap */
