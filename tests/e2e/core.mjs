// The built core in Node: makes the items that a test needs, and knows what becomes of them.
import { readFile } from 'node:fs/promises';
import { initSync, deal, dealClear, dealLeave, grade, makeClearLink, makeLeaveLink, makeLink, makeSetLink } from '../../www/pkg/leaveline.js';

initSync({ module: await readFile(new URL('../../www/pkg/leaveline_bg.wasm', import.meta.url)) });

/**
 * The item of a seed with the address that opens it; where its cue ball really goes, m: the touches of rails and the
 * stop; the call that says just that; and the address of the same item from a sender who called so.
 */
export function seeded(level, seed) {
  const question = deal({ level, seed });
  const { item, aim } = question;
  const { touches, stop } = grade({ item, call: { points: [], stop: aim.ghost } });
  const points = touches.filter(({ rail }) => /^(head|foot|right|left)$/.test(rail)).map(({ x, y, rail }) => ({ x, y, rail }));
  const call = { points, stop: { x: stop.x, y: stop.y } };
  return {
    question,
    call,
    truth: [...points, stop].map(({ x, y }) => [x, y]),
    hash: `#${makeLink({ item })}`,
    sealed: `#${makeLink({ item, call })}`,
  };
}

/** The address of a Leave item, as the Bench makes them. */
export const leaveLink = (item) => `#${makeLeaveLink({ item })}`;

/** The Leave item of a seed with the address that opens it, and the same from a sender who answered. */
export function leaveItem(level, seed) {
  const { item } = dealLeave({ level, seed });
  const answer = { zone: { x: 1.2, y: 0.6, long: 0.5, wide: 0.3, turn: 20 }, stroke: item.shot.stroke };
  return { item, hash: leaveLink(item), sealed: `#${makeLeaveLink({ item, answer })}` };
}

/** The Clear item of a seed with the address that opens it. */
export function clearItem(wish) {
  const { item, left } = dealClear({ level: 1, seed: 3, game: 'rotation', balls: 3, ...wish });
  return { item, left, hash: `#${makeClearLink({ item })}` };
}

/** The address of a set, with the score that its sender claims. */
export const setLink = (set, claimed = null) => `#${makeSetLink({ text: JSON.stringify(set), claimed })}`;
