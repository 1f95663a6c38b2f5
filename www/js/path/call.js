// Draws the aim, a call with its handles, and the sender's call.

import { pathOf, shownPoints } from './state.js';
import { fill, mm, pair, pathData, set, svg, sync } from '../table/svg.js';

/** @import { Aim, Call, Place, Point } from '../engine/protocol.js' */
/** @import { OfPath } from './state.js' */
/** @import { Frame } from '../table/frame.js' */

/** @param {SVGGElement} group @param {Pick<Aim, 'path' | 'pocketPath' | 'ghost' | 'first'>} aim @param {number} r Ball's radius, mm. */
export function drawAim(group, { path, pocketPath, ghost, first }, r) {
  const [cx, cy] = [mm(ghost.x), mm(ghost.y)];
  group.replaceChildren(
    svg('path', { class: 'pocket-path', d: pathData(pocketPath) }),
    svg('path', { class: 'aim', d: pathData(path) }),
    svg('g', { class: 'ghost-ball', 'data-handle': 'ghost', role: 'button', 'aria-label': `Ghost ball at the ${first}: the path starts here` },
      svg('circle', { class: 'halo', cx, cy, r }),
      svg('circle', { class: 'ghost', cx, cy, r }),
      svg('circle', { class: 'centre', cx, cy, r: 3.5 })),
  );
}

/** @param {Point} point @param {number} index @param {number} count */
function handleWords(point, index, count) {
  const name = index < count - 1 ? `Point ${index + 1} of ${count}` : point.rail ? `Last point, ${count}` : 'Stop';
  return `${name}: ${point.words}`;
}

/** @param {Frame} frame @param {number} r */
const makeHandle = ({ px }, r) =>
  svg('g', { class: 'handle' },
    svg('circle', { class: 'halo', r: Math.max(14 * px, 0.9 * r) }),
    svg('circle', { class: 'outline', r }),
    svg('path', { class: 'marks', d: `M${-r} 0h${0.55 * r}M${r} 0h${-0.55 * r}M0 ${-r}v${0.55 * r}M0 ${r}v${-0.55 * r}` }),
    svg('circle', { class: 'dot', r: 5 * px }));

/**
 * The handles of a call; they can be taken hold of while `live`.
 * @param {SVGGElement} group @param {OfPath} state @param {Frame} frame @param {number} r Ball's radius, mm. @param {boolean} live
 */
export function drawHandles(group, state, frame, r, live) {
  const { selected, draft } = state;
  const points = shownPoints(state);
  const held = draft && draft.grip !== 'hover' ? draft.at : null;
  sync(
    group,
    points,
    (_, index) => `${index} ${frame.px}`,
    () => makeHandle(frame, r),
    (element, point, index) => {
      const stop = index === points.length - 1;
      const names = ['handle', point.rail ? 'touch' : stop ? 'stop' : 'bend'];
      if (index === selected) names.push('selected');
      if (index === held) names.push('held');
      set(element, {
        class: names.join(' '),
        transform: `translate(${mm(point.x)} ${mm(point.y)})`,
        'data-handle': index,
        role: live ? 'button' : 'img',
        tabindex: live ? 0 : null,
        'aria-pressed': live ? String(index === selected) : null,
        'aria-label': handleWords(point, index, points.length),
      });
    },
  );
}

/**
 * The call as a dashed line from the ghost ball on, and the sender's if it is shown.
 * @param {SVGGElement} group @param {OfPath} state @param {Place} ghost @param {number} r Ball's radius, mm. @param {Call | null} sender
 */
export function drawCall(group, state, ghost, r, sender) {
  const { draft } = state;
  const start = pair(ghost);
  const points = shownPoints(state).map(pair);
  /** @type {Element[]} */
  const lines = [];
  if (sender) {
    lines.push(svg('path', { class: 'sender', d: pathData([start, ...pathOf(sender).map(pair)]) }));
    lines.push(svg('circle', { class: 'sender', cx: mm(sender.stop.x), cy: mm(sender.stop.y), r }));
  }
  if (points.length > 0) lines.push(svg('path', { class: 'call', d: pathData([start, ...points]) }));
  if (draft?.grip === 'hover') {
    const around = [start, ...points].slice(draft.at, draft.at + 2);
    const [from, to] = around;
    lines.push(svg('path', { class: 'call preview', d: pathData(to ? [from, pair(draft.point), to] : [from, pair(draft.point)]) }));
    lines.push(svg('circle', { class: 'call preview', cx: mm(draft.point.x), cy: mm(draft.point.y), r }));
  }
  fill(group, lines);
}
