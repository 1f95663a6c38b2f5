// Writes what the page brings with it, so that Read opens before its core is there: node scripts/first.mjs PKG
// All of it comes from the built core, and the same core gives the same bytes.
import { readFile, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

/** The item that a newcomer begins with (chosen by eye): a level cue, a cut into a corner, one cushion, a stop in the open. */
const FIRST = { level: 1, seed: 122 };

const TYPES = `import type { LevelInfo, Question } from './read.js';
export const LEVELS: LevelInfo[];
export const FIRST: { question: Question; link: string };
`;

const folder = process.argv[2];
if (!folder) {
  console.error('usage: node scripts/first.mjs PKG');
  process.exit(2);
}
const { initSync, levels, deal, makeLink } = await import(pathToFileURL(resolve(folder, 'read.js')).href);
initSync({ module: await readFile(join(folder, 'read_bg.wasm')) });
const question = deal(FIRST);
const data = { LEVELS: levels(), FIRST: { question, link: makeLink({ item: question.item }) } };
const lines = Object.entries(data).map(([name, value]) => `export const ${name} = ${JSON.stringify(value)};\n`);
await writeFile(join(folder, 'first.js'), lines.join(''));
await writeFile(join(folder, 'first.d.ts'), TYPES);
