// What the page weighs: node scripts/size.mjs [FOLDER]
// A kB is 1000 bytes. Every file is compressed by itself, as a host would send it.
import { readdirSync, readFileSync, realpathSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, gzipSync } from 'node:zlib';

/** The most that may be sent, bytes after gzip -9: of the core alone, and of all that the page loads. */
export const BUDGET = { wasm: 274_000, page: 400_000 };

/** In the folder, but loaded by no page: pictures of the README, schemas, types, what tsc and Node read. */
const APART = [/^pictures\//, /^schema\//, /\.d\.ts$/, /^js\/engine\/protocol\.js$/, /^tsconfig.*\.json$/, /^package\.json$/];

/** @typedef {{ raw: number, gzip: number, brotli: number }} Weight */

/** @param {Uint8Array} bytes @returns {Weight} */
function weigh(bytes) {
  return { raw: bytes.length, gzip: gzipSync(bytes, { level: 9 }).length, brotli: brotliCompressSync(bytes).length };
}

/** @param {Weight[]} all @returns {Weight} */
function sum(all) {
  const total = { raw: 0, gzip: 0, brotli: 0 };
  for (const one of all) for (const key of Object.keys(total)) total[key] += one[key];
  return total;
}

/**
 * Weighs the built page: each file that it loads, by name, the core among them, and all together.
 * Nothing is loaded late, so this is the first load too.
 * @param {string} folder
 */
export function pageWeight(folder) {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  const names = entries.map((entry) => relative(folder, join(entry.parentPath ?? entry.path, entry.name)).split(sep).join('/'));
  /** @type {Record<string, Weight>} */
  const files = {};
  for (const name of names.filter((name) => !APART.some((apart) => apart.test(name))).sort()) {
    files[name] = weigh(readFileSync(join(folder, name)));
  }
  return { files, wasm: files['pkg/leaveline_bg.wasm'], page: sum(Object.values(files)) };
}

/** @param {ReturnType<typeof pageWeight>} weight */
export function inWords({ files, wasm, page }) {
  const kB = (bytes) => (bytes / 1000).toFixed(1).padStart(7);
  const rows = { wasm, page };
  const lines = Object.entries(rows).map(
    ([name, { raw, gzip, brotli }]) => `${name}  ${kB(raw)} ${kB(gzip)} ${kB(brotli)} ${kB(BUDGET[name])}`,
  );
  return ['kB        raw    gzip  brotli  budget (gzip)', ...lines, `page: ${Object.keys(files).length} files`].join('\n');
}

if (process.argv[1] && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
  console.log(inWords(pageWeight(process.argv[2] ?? fileURLToPath(new URL('../www', import.meta.url)))));
}
