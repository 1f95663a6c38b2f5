// Serves a folder on this computer alone: node scripts/serve.mjs FOLDER PORT
import { realpathSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { basename, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { gzip } from 'node:zlib';

const TYPES = {
  css: 'text/css; charset=utf-8',
  html: 'text/html; charset=utf-8',
  ico: 'image/x-icon',
  js: 'text/javascript; charset=utf-8',
  json: 'application/json',
  png: 'image/png',
  'schema.json': 'application/schema+json',
  svg: 'image/svg+xml',
  txt: 'text/plain; charset=utf-8',
  wasm: 'application/wasm',
  webmanifest: 'application/manifest+json',
  woff2: 'font/woff2',
};

/** The policy of every file; the page's meta tag says the same for hosts that send none. */
export const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; " +
  "worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'";

// WebAssembly is compiled in the worker and nowhere else, and a worker goes by the policy of its own file.
const WORKER_POLICY = POLICY.replace("script-src 'self'", "script-src 'self' 'wasm-unsafe-eval'");

/** @param {string} file */
function headers(file) {
  const [, ...ends] = basename(file).split('.');
  const type = TYPES[ends.slice(-2).join('.')] ?? TYPES[ends.at(-1)] ?? 'application/octet-stream';
  return {
    'Content-Type': type,
    'Content-Security-Policy': basename(file) === 'worker.js' ? WORKER_POLICY : POLICY,
    'X-Content-Type-Options': 'nosniff',
    'Referrer-Policy': 'no-referrer',
    'Cache-Control': 'no-cache',
  };
}

/** Finds the file that a request names; throws if the name is malformed or leads out of the folder. */
function named(root, url) {
  const path = decodeURIComponent(url.split(/[?#]/, 1)[0]);
  const file = resolve(root, `.${path}${path.endsWith('/') ? 'index.html' : ''}`);
  if (!file.startsWith(root + sep)) throw new Error(`outside of the folder: ${url}`);
  return file;
}

/**
 * Answers requests for the files of `folder`; compresses if told to, as most hosts do.
 * @param {string} folder @param {{ compress?: boolean }} [options]
 */
export function answering(folder, { compress = false } = {}) {
  const root = realpathSync(folder);
  return async (request, response) => {
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.writeHead(405, { Allow: 'GET, HEAD' }).end();
      return;
    }
    try {
      const file = named(root, request.url);
      const plain = await readFile(file);
      const body = compress ? await promisify(gzip)(plain) : plain;
      response.writeHead(200, { ...headers(file), ...(compress && { 'Content-Encoding': 'gzip' }), 'Content-Length': body.length }).end(body);
    } catch {
      response.writeHead(404, headers('missing.txt')).end('Not found\n');
    }
  };
}

/**
 * Serves `folder` on 127.0.0.1 at `port`, or at the next free one; port 0 is any free one.
 * @param {string} folder
 * @param {number} port
 * @returns {Promise<{ url: string, port: number, close: () => Promise<void> }>}
 */
export async function serve(folder, port) {
  const server = createServer(answering(folder));
  const found = await listen(server, port);
  return {
    url: `http://127.0.0.1:${found}/`,
    port: found,
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

/** Listens at the first free port from `port` on, and returns it. */
function listen(server, port) {
  return new Promise((done, fail) => {
    const attempt = () => server.listen(port, '127.0.0.1');
    server.on('error', (error) => {
      if (error.code !== 'EADDRINUSE' || port >= 65535) return fail(error);
      port += 1;
      attempt();
    });
    server.on('listening', () => done(server.address().port));
    attempt();
  });
}

if (process.argv[1] && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
  const [folder, wanted] = [process.argv[2], Number(process.argv[3])];
  if (!folder || !Number.isInteger(wanted) || wanted < 0 || wanted > 65535) {
    console.error('usage: node scripts/serve.mjs FOLDER PORT');
    process.exit(2);
  }
  const { url, port } = await serve(folder, wanted);
  if (wanted && port !== wanted) console.log(`Port ${wanted} is taken.`);
  console.log(`Leaveline is at ${url} (Ctrl+C ends it).`);
}
