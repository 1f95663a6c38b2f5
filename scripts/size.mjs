// What the page weighs: node scripts/size.mjs [FOLDER]
// A kB is 1000 bytes. Every file is compressed by itself, as a host would send it.
import { readdirSync, readFileSync, realpathSync } from 'node:fs';
import { join, posix, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, gzipSync } from 'node:zlib';

/** The most that may be sent, bytes after gzip -9: of the small core and the whole one, and of all that the page loads before Read is open. */
export const BUDGET = { small: 219_000, wasm: 480_000, first: 312_000 };

/** For those who work on the page, and in no release: pictures of the README, types, what tsc and Node read. */
export const NOT_SERVED = [/^pictures\//, /\.d\.ts$/, /^js\/engine\/protocol\.js$/, /^tsconfig.*\.json$/, /^package\.json$/];

/** In the folder, but loaded by no page of itself: those, ready-made sets, schemas, icons, and what the browser reads. */
const APART = [...NOT_SERVED, /^sets\//, /^schema\//, /^icons\/(?!icon\.svg$)/, /^sw\.js$/];

/** What the page begins with where somebody is new. */
export const SIGHT = ['index.html'];

/** The part with which the page opens, unless another was open last or is asked for, and its core. */
export const FIRST = [...SIGHT, 'js/main.js', 'css/grade.css', 'css/dialogs.css', 'js/read/part.js', 'pkg/read.js', 'pkg/read_bg.wasm'];

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
 * The files of ours that a file names: what it imports, starts as a worker, links or shows; and what it may load later.
 * @param {string} folder @param {string} file
 */
function named(folder, file) {
  const text = readFileSync(join(folder, file), 'utf8').replace(/\/\*[^]*?\*\/|^\s*\/\/.*$/gm, '');
  const all = (/** @type {RegExp} */ pattern) => [...text.matchAll(pattern)].map((match) => match.slice(1).find(Boolean) ?? '');
  const from = (/** @type {string[]} */ paths) => paths.map((path) => posix.join(posix.dirname(file), path));
  if (file.endsWith('.html')) return { now: from(all(/(?:src|<link rel="(?:stylesheet|icon|manifest)" href)="([^"#]+)"/g)), later: [] };
  const found = from(all(/(?:from|import) '(\.[^']+)'|new URL\(['"]([^'"]+)['"], import\.meta\.url\)|url\(['"]?([^'"#)]+)/g));
  // A worker takes the package that it is told to.
  const [now, packages] = [false, true].map((late) => found.filter((name) => name.endsWith('.wasm') === late));
  // Styles that come later are named by the page's folder.
  return { now, later: [...packages, ...from(all(/import\('(\.[^']+)'\)/g)), ...all(/'((?:css|pkg)\/[^']+\.css)'/g)] };
}

/** All that a page with these files goes on to load; `late` too if it is told so. @param {string} folder @param {string[]} begin @param {boolean} late */
export function reached(folder, begin, late) {
  const files = new Set(begin);
  for (const file of files) {
    if (!/\.(html|css|js)$/.test(file)) continue;
    const { now, later } = named(folder, file);
    for (const other of late ? [...now, ...later] : now) files.add(other);
  }
  return [...files].sort();
}

/**
 * Weighs the built page: each file that it loads, by name, both cores among them, what it loads before Read is open, and
 * all together.
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
  const first = reached(folder, FIRST, false);
  return { files, small: files['pkg/read_bg.wasm'], wasm: files['pkg/leaveline_bg.wasm'], first: sum(first.map((name) => files[name])), whole: sum(Object.values(files)) };
}

/** @param {ReturnType<typeof pageWeight>} weight */
export function inWords({ files, small, wasm, first, whole }) {
  const kB = (bytes) => (bytes / 1000).toFixed(1).padStart(7);
  const rows = { small, wasm, first, whole };
  const lines = Object.entries(rows).map(
    ([name, { raw, gzip, brotli }]) => `${name.padEnd(5)} ${kB(raw)} ${kB(gzip)} ${kB(brotli)} ${name in BUDGET ? kB(BUDGET[name]) : ''}`.trimEnd(),
  );
  return ['kB        raw    gzip  brotli  budget (gzip)', ...lines, `whole: ${Object.keys(files).length} files`].join('\n');
}

if (process.argv[1] && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
  console.log(inWords(pageWeight(process.argv[2] ?? fileURLToPath(new URL('../www', import.meta.url)))));
}
