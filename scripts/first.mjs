// Writes what the page brings with it, so that Read opens before its core is there: node scripts/first.mjs PKG
// All of it comes from the built core, and the same core gives the same bytes. What is needed later is a file by itself.
import { readFile, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

/** The item that a newcomer begins with (chosen by eye): a level cue, a cut into a corner, one cushion, a stop in the open. */
const FIRST = { level: 1, seed: 122 };

const TYPES = `import type { LevelInfo, Question } from './read.js';
export const LEVELS: LevelInfo[];
export const FIRST: { question: Question; link: string };
export const MOST_POINTS: number;
`;
const LATER_TYPES = `import type { Limits } from './leaveline.js';
export const LIMITS: Omit<Limits, 'mostPoints'>;
`;

const folder = process.argv[2];
if (!folder) {
  console.error('usage: node scripts/first.mjs PKG');
  process.exit(2);
}
const { initSync, levels, deal, makeLink, limits } = await import(pathToFileURL(resolve(folder, 'leaveline.js')).href);
initSync({ module: await readFile(join(folder, 'leaveline_bg.wasm')) });

/** @param {string} name @param {Record<string, unknown>} data @param {string} types */
async function write(name, data, types) {
  const lines = Object.entries(data).map(([key, value]) => `export const ${key} = ${JSON.stringify(value)};\n`);
  await writeFile(join(folder, `${name}.js`), lines.join(''));
  await writeFile(join(folder, `${name}.d.ts`), types);
}

const question = deal(FIRST);
const { mostPoints, ...later } = limits();
await write('first', { LEVELS: levels(), FIRST: { question, link: makeLink({ item: question.item }) }, MOST_POINTS: mostPoints }, TYPES);
await write('limits', { LIMITS: later }, LATER_TYPES);
