// What is drawn of a stroke that is being set: the pockets at which it can be aimed, its aim, and the balls that it is about.

import { drawAim } from '../path/call.js';
import { fill, mm, set, svg, sync } from '../table/svg.js';
import { pathOf } from '../table/balls.js';

/** @import { Ball, Pair, Table, Trial } from '../engine/protocol.js' */
/** @import { Frame } from '../table/frame.js' */

/** The cue ball's way to the ball that it meets. @param {Trial} trial @returns {Pair[]} */
export const approach = ({ tracks, contactTime }) => (contactTime === null ? [] : pathOf(tracks, 'cue', 0, contactTime));

/** The pockets: those that can be chosen, and the one that is asked for or chosen. @param {SVGGElement} group @param {Table['pockets']} pockets @param {string | null} pocket @param {boolean} open Whether one can be chosen. */
export function drawPockets(group, pockets, pocket, open) {
  const shown = open ? pockets : pockets.filter(({ id }) => id === pocket);
  sync(group, shown, ({ id }) => id,
    () => svg('g', { class: 'aim-pocket' }, svg('circle', { class: 'halo' }), svg('path', { class: 'bullseye' })),
    (element, { id, x, y, r }) => {
      const chosen = id === pocket;
      const name = `${id.replace('-', ' ')} pocket`;
      set(element, {
        'data-handle': open ? `pocket ${id}` : null,
        role: open ? 'button' : 'img',
        tabindex: open ? 0 : null,
        'aria-pressed': open ? String(chosen) : null,
        'aria-label': open ? `Aim at the ${name}` : `Aimed at the ${name}`,
      });
      const [cx, cy, arm] = [mm(x), mm(y), 0.62 * mm(r)];
      set(element.children[0], { cx, cy, r: mm(r) });
      const ring = `M${cx - arm} ${cy}a${arm} ${arm} 0 1 0 ${2 * arm} 0a${arm} ${arm} 0 1 0 ${-2 * arm} 0`;
      set(element.children[1], { d: chosen ? `${ring}M${cx} ${cy - arm}v${2 * arm}M${cx - arm} ${cy}h${2 * arm}` : '' });
    });
}

/**
 * The aim of a trial, to the pocket if it pots the ball that is to be potted.
 * @param {SVGGElement} group @param {{ trial: Trial | null, balls: readonly Ball[], pockets: Table['pockets'] }} of
 * @param {number} r @param {boolean} live Whether a path can start at its ghost ball.
 */
export function drawAimOf(group, { trial, balls, pockets }, r, live) {
  if (!trial?.ghost) return group.replaceChildren();
  const { demand } = trial.item;
  const [on, pocket] = [balls.find(({ id }) => id === trial.first), pockets.find(({ id }) => id === demand.pocket)];
  const toPocket = on && pocket && !trial.refusal && trial.first === demand.on;
  const focused = group.contains(document.activeElement);
  drawAim(group, { path: approach(trial), ghost: trial.ghost, first: trial.first ?? '', pocketPath: toPocket ? [[on.x, on.y], [pocket.x, pocket.y]] : [] }, r);
  const ghost = group.lastElementChild;
  if (ghost) set(ghost, { tabindex: live ? 0 : null, role: live ? 'button' : 'img' });
  if (focused && live && ghost instanceof SVGElement) ghost.focus();
}

/**
 * Rings around the ball on and the next one: one line, two lines.
 * @param {SVGGElement} group @param {readonly Ball[]} balls None, where nothing is marked.
 * @param {{ on?: string | null, next?: string | null }} demand @param {Frame} frame @param {number} r
 */
export function drawMarks(group, balls, { on, next }, frame, r) {
  const ring = (/** @type {string | null | undefined} */ id, /** @type {number} */ gap) => {
    const ball = balls.find((one) => one.id === id);
    return ball ? [svg('circle', { class: 'ring', cx: mm(ball.x), cy: mm(ball.y), r: r + gap * frame.px })] : [];
  };
  fill(group, [...ring(on, 3.5), ...ring(next, 3.5), ...ring(next, 6.5)]);
}
