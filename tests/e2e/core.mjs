// The built core in Node: makes the items that a test needs, and knows what becomes of them.
import { readFile } from 'node:fs/promises';
import { initSync, deal, dealClear, dealLeave, grade, logRecord, makeLink, makeSetLink } from '../../www/pkg/leaveline.js';

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
export const leaveLink = (item) => `#${makeLink({ item })}`;

/** The Leave item of a seed with the address that opens it, and the same from a sender who answered. */
export function leaveItem(level, seed) {
  const { item } = dealLeave({ level, seed });
  const answer = { zone: { x: 1.2, y: 0.6, long: 0.5, wide: 0.3, turn: 20 }, stroke: item.shot.stroke };
  return { item, hash: leaveLink(item), sealed: `#${makeLink({ item, answer })}` };
}

/** The Clear item of a seed with the address that opens it. */
export function clearItem(wish) {
  const { item, left } = dealClear({ level: 1, seed: 3, game: 'rotation', balls: 3, ...wish });
  return { item, left, hash: `#${makeLink({ item })}` };
}

/** The address of a set, with the score that its sender claims. */
export const setLink = (set, claimed = null) => `#${makeSetLink({ text: JSON.stringify(set), claimed })}`;

/** A number from -1 to 1 that depends on `k` alone. */
const spread = (k) => 2 * ((Math.imul(k + 1, 0x9e3779b1) >>> 0) / 2 ** 32) - 1;

/** The first items of a level with what comes of them, dealt once. */
const dealt = new Map();
function itemOf(level, seed) {
  const key = `${level} ${seed}`;
  if (!dealt.has(key)) dealt.set(key, seeded(level, seed));
  return dealt.get(key);
}

/**
 * Calls of Read as lines of a log, an hour apart: the rails are right, and the stop is called `long` m too far on and up to
 * a ball and a half off to all sides.
 */
export function loggedLines(n, { long = 0.15, from = 1_790_000_000_000, items = 40 } = {}) {
  return Array.from({ length: n }, (_, k) => {
    const { question, call } = itemOf(1 + (k % 6), Math.floor(k / 6) % items);
    const { stop, points } = call;
    const last = points.at(-1) ?? question.aim.ghost;
    const way = Math.hypot(stop.x - last.x, stop.y - last.y) || 1;
    const [x, y] = [(stop.x - last.x) / way, (stop.y - last.y) / way];
    const [along, across] = [long + 0.08 * spread(2 * k), 0.08 * spread(2 * k + 1)];
    const { length, width, touch } = question.table;
    const within = (at, size) => Math.min(Math.max(at, touch), size - touch);
    const place = { x: within(stop.x + along * x - across * y, length), y: within(stop.y + along * y + across * x, width) };
    const called = { points, stop: place };
    const { record } = logRecord({ at: from + 3_600_000 * k, item: question.item, call: called });
    return JSON.stringify(record);
  });
}
