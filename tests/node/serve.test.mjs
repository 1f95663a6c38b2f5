import assert from 'node:assert/strict';
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { PERMISSIONS, POLICY, serve } from '../../scripts/serve.mjs';

let folder, server;

before(async () => {
  folder = await mkdtemp(join(tmpdir(), 'leaveline-'));
  await mkdir(join(folder, 'www/js/engine'), { recursive: true });
  await writeFile(join(folder, 'secret.txt'), 'secret');
  const names = ['index.html', 'js/engine/worker.js', 'a b.css', 'x.wasm', 'x.webmanifest', 'x.schema.json', 'x.svg'];
  for (const name of names) await writeFile(join(folder, 'www', name), name);
  server = await serve(join(folder, 'www'), 0);
});

after(async () => {
  await server.close();
  await rm(folder, { recursive: true });
});

// fetch() would tidy a path that leads out of the folder before it is sent.
const get = (path, method = 'GET') =>
  new Promise((done, fail) => {
    const sent = request({ host: '127.0.0.1', port: server.port, path, method }, async (response) => {
      let body = '';
      for await (const chunk of response) body += chunk;
      done({ status: response.statusCode, headers: response.headers, body });
    });
    sent.on('error', fail).end();
  });

test('files come with their types', async () => {
  const types = {
    '/': 'text/html; charset=utf-8',
    '/js/engine/worker.js?v=1': 'text/javascript; charset=utf-8',
    '/a%20b.css': 'text/css; charset=utf-8',
    '/x.wasm': 'application/wasm',
    '/x.webmanifest': 'application/manifest+json',
    '/x.schema.json': 'application/schema+json',
    '/x.svg': 'image/svg+xml',
  };
  for (const [path, type] of Object.entries(types)) {
    const { status, headers } = await get(path);
    assert.deepEqual([status, headers['content-type']], [200, type], path);
  }
});

test('only the worker may compile WebAssembly', async () => {
  const policy = async (path) => (await get(path)).headers['content-security-policy'];
  assert.equal(await policy('/'), `${POLICY}; frame-ancestors 'none'`);
  assert.doesNotMatch(await policy('/x.wasm'), /wasm-unsafe-eval/);
  assert.match(await policy('/js/engine/worker.js'), /script-src 'self' 'wasm-unsafe-eval';/);
});

test('what the page does not use is switched off, and no other page frames or opens it', async () => {
  for (const path of ['/', '/x.wasm', '/none.js']) {
    const { headers } = await get(path);
    assert.equal(headers['permissions-policy'], PERMISSIONS, path);
    assert.match(headers['permissions-policy'], /camera=\(\).*geolocation=\(\).*microphone=\(\)/);
    assert.equal(headers['x-content-type-options'], 'nosniff', path);
    assert.equal(headers['referrer-policy'], 'no-referrer', path);
    assert.equal(headers['cross-origin-opener-policy'], 'same-origin', path);
    assert.equal(headers['cross-origin-resource-policy'], 'same-origin', path);
  }
});

test('the page states the same policy', async () => {
  const page = await readFile(new URL('../../www/index.html', import.meta.url), 'utf8');
  const [, stated] = page.match(/Content-Security-Policy"\s+content="([^"]*)"/);
  assert.equal(stated.replace(/\s+/g, ' '), POLICY);
});

test('nothing outside of the folder is served', async () => {
  const paths = ['/../secret.txt', '/..%2fsecret.txt', '/%2e%2e/secret.txt', '//../secret.txt', '/js/../../secret.txt'];
  for (const path of [...paths, '/%00', '/%', '/js', '/none.js']) {
    const { status, body } = await get(path);
    assert.deepEqual([status, body], [404, 'Not found\n'], path);
  }
});

test('nothing but reading is allowed', async () => {
  assert.equal((await get('/', 'POST')).status, 405);
  const head = await get('/', 'HEAD');
  assert.deepEqual([head.status, head.body, head.headers['content-length']], [200, '', '10']);
});

test('a taken port gives way to the next', async () => {
  const next = await serve(join(folder, 'www'), server.port);
  assert.ok(next.port > server.port, `${next.port} after ${server.port}`);
  await next.close();
});
