// Draws where the cue ball really went.

import { fill, mm, pathData, svg } from '../table/svg.js';
import { pathOf } from '../table/balls.js';

/** @import { Track, Way } from '../engine/protocol.js' */
/** @import { Frame } from '../table/frame.js' */

/**
 * A shot that was played, so far as it is shown; `whole` once it is over.
 * @typedef {{ tracks: readonly Track[], way: Way, whole: boolean, clock: number }} Run
 */

/** @param {SVGGElement} group @param {Run | null} run @param {Frame} frame */
export function drawOutcome(group, run, frame) {
  if (!run) return group.replaceChildren();
  const { tracks, way, whole, clock } = run;
  if (!whole) {
    const path = pathOf(tracks, 'cue', way.contactTime, clock);
    return fill(group, path.length ? [svg('path', { class: 'real', d: pathData(path) })] : []);
  }
  const { tangent, slideEnd, touches, stop, path } = way;
  const { px } = frame;
  group.replaceChildren(
    svg('path', { class: 'tangent', d: pathData([tangent.from, tangent.to]) }),
    svg('path', { class: 'real', d: pathData(path) }),
    ...touches.map(({ x, y }) => svg('circle', { class: 'real-touch', cx: mm(x), cy: mm(y), r: 3.2 * px })),
  );
  if (slideEnd) {
    const [x, y] = [mm(slideEnd.x), mm(slideEnd.y)];
    group.append(svg('g', { class: 'slide-end', role: 'img', 'aria-label': slideEnd.words },
      svg('rect', { x: x - 4 * px, y: y - 4 * px, width: 8 * px, height: 8 * px, transform: `rotate(45 ${x} ${y})` })));
  }
  if (stop.pocket) {
    const [x, y, arm] = [mm(stop.x), mm(stop.y), 26];
    group.append(svg('path', { class: 'scratch', d: `M${x - arm} ${y - arm}l${2 * arm} ${2 * arm}M${x - arm} ${y + arm}l${2 * arm} ${-2 * arm}` }));
  }
}
