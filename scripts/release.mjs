// Makes the folder that a host serves: node scripts/release.mjs FROM TO
// The door stays where it is (the page, its manifest, icons and schemas, and the service worker); all else goes into a
// folder with the version's name, so that no page ever loads a file of another version. What browsers read is written short,
// file by file: more than a third of what a first visit loads is comments, names and spaces.
import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { FIRST, NOT_SERVED, SIGHT, reached } from './size.mjs';

// Installed with what the tests take from npm.
const { transform } = createRequire(new URL('../tests/package.json', import.meta.url))('esbuild');

/** What has an address of its own that must not change. */
const DOOR = [/^index\.html$/, /^sw\.js$/, /^manifest\.webmanifest$/, /^icons\//, /^schema\//];
/** A style sheet of the page, with its line. */
const STYLE = / *<link rel="stylesheet" href="([^"]+)" \/>\n/g;
/** All of them in one. */
const STYLES = 'css/first.css';
/** Characters of the hash that tell one version from another. */
const DIGITS = 12;

const sha256 = (bytes, form) => createHash('sha256').update(bytes).digest(form);

/** A module or a style sheet, written short: the same program. @param {string} name @param {Buffer} bytes */
async function short(name, bytes) {
  const loader = /^(?:js|pkg\/[^/]+$|css)/.test(name) && /\.(js|css)$/.exec(name)?.[1];
  if (!loader) return bytes;
  const { code } = await transform(bytes.toString(), { loader, minify: true, target: 'es2023', charset: 'utf8' });
  return Buffer.from(code);
}

/** The names of all files in a folder that are served, sorted. */
async function served(folder) {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const names = entries.filter((one) => one.isFile()).map((one) => relative(folder, join(one.parentPath ?? one.path, one.name)).split(sep).join('/'));
  return names.filter((name) => !NOT_SERVED.some((one) => one.test(name))).sort();
}

/** Replaces what must be there once. */
function replaced(text, from, to) {
  const parts = text.split(from);
  if (parts.length !== 2) throw new Error(`${parts.length - 1} times instead of once: ${from}`);
  return parts.join(to);
}

/**
 * Makes `to` of the built page in `from`, anew and at once: what was there is replaced when all of it is done.
 * @param {string} from @param {string} to @param {string} number The version that the project says.
 * @returns {Promise<{ version: string, files: number }>}
 */
export async function release(from, to, number) {
  const names = await served(from);
  const files = new Map();
  for (const name of names) files.set(name, await short(name, await readFile(join(from, name))));
  const isDoor = (name) => DOOR.some((one) => one.test(name));
  const hash = sha256(names.map((name) => `${sha256(files.get(name), 'hex')} ${name}\n`).join('') + number, 'hex').slice(0, DIGITS);
  const version = `${number}-${hash}`;

  let page = files.get('index.html').toString();
  // One style sheet instead of a request for each, and all modules of what opens first at once, not import after import.
  const styles = [...page.matchAll(STYLE)].map(([, name]) => name);
  names.push(STYLES);
  files.set(STYLES, Buffer.concat(styles.map((name) => files.get(name))));
  const isModule = (name) => /^js\/.*\.js$|^pkg\/first\.js$/.test(name) && name !== 'js/engine/worker.js';
  const [sight, all] = [SIGHT, FIRST].map((begin) => reached(from, begin, false).filter(isModule));
  const ahead = (name) => `<link rel="modulepreload" href="${name}" />`;
  const rest = all.filter((name) => !sight.includes(name)).map(ahead);
  const links = [`<link rel="stylesheet" href="${STYLES}" />`, ...sight.map(ahead), `<template id="rest">${rest.join('')}</template>`];
  page = page.replace(STYLE, (link) => (link.includes(`"${styles[0]}"`) ? `    ${links.join('\n    ')}\n` : ''));
  page = page.replace(/(href|src)="((?:css|js|pkg)\/[^"]+)"/g, `$1="${version}/$2"`);
  files.set('index.html', Buffer.from(replaced(page, '<meta charset="utf-8" />', `<meta charset="utf-8" />\n    <meta name="version" content="${version}" />`)));

  const out = new Map();
  for (const name of names) out.set(isDoor(name) ? name : `${version}/${name}`, files.get(name));
  const list = {};
  for (const [name, bytes] of out) if (name !== 'sw.js') list[name === 'index.html' ? './' : name] = sha256(bytes, 'base64');
  const worker = replaced(out.get('sw.js').toString(), "const VERSION = '';", `const VERSION = '${version}';`);
  out.set('sw.js', Buffer.from(replaced(worker, 'const FILES = {};', `const FILES = ${JSON.stringify(list, null, 2)};`)));

  const fresh = `${to}.new`;
  await rm(fresh, { recursive: true, force: true });
  for (const [name, bytes] of out) {
    await mkdir(dirname(join(fresh, name)), { recursive: true });
    await writeFile(join(fresh, name), bytes);
  }
  await rm(to, { recursive: true, force: true });
  await rename(fresh, to);
  return { version, files: out.size };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [from, to] = process.argv.slice(2);
  if (!from || !to) {
    console.error('usage: node scripts/release.mjs FROM TO');
    process.exit(2);
  }
  const [, number] = /^version = "([^"]+)"/m.exec(await readFile(new URL('../Cargo.toml', import.meta.url), 'utf8')) ?? [];
  const { version, files } = await release(from, to, number);
  console.log(`Leaveline ${version}: ${files} files in ${to}, for any host and any path.`);
}
