// What scripts/release makes: the same of the same, whole, and of addresses that fit any path.
import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { cp, mkdtemp, readFile, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { release } from '../../scripts/release.mjs';

const WWW = fileURLToPath(new URL('../../www', import.meta.url));

/** A folder that is gone after the test. */
async function scratch(context) {
  const folder = await mkdtemp(join(tmpdir(), 'leaveline-release-'));
  context.after(() => rm(folder, { recursive: true }));
  return folder;
}

const namesIn = async (folder) =>
  (await readdir(folder, { recursive: true, withFileTypes: true })).filter((one) => one.isFile()).map((one) => relative(folder, join(one.parentPath ?? one.path, one.name)));

test('the worker lists every file with its hash, and only the door has no version', async (context) => {
  const site = join(await scratch(context), 'site');
  const { version, files } = await release(WWW, site, '1.2.3');
  assert.match(version, /^1\.2\.3-[0-9a-f]{12}$/);
  const worker = await readFile(join(site, 'sw.js'), 'utf8');
  assert.ok(worker.includes(`const VERSION = '${version}';`));
  const list = JSON.parse(/const FILES = (\{[^}]*\});/.exec(worker)[1]);
  const names = await namesIn(site);
  assert.equal(names.length, files);
  assert.deepEqual(Object.keys(list).sort(), names.filter((name) => name !== 'sw.js').map((name) => (name === 'index.html' ? './' : name)).sort());
  for (const [name, hash] of Object.entries(list)) {
    const bytes = await readFile(join(site, name === './' ? 'index.html' : name));
    assert.equal(createHash('sha256').update(bytes).digest('base64'), hash, name);
  }
  const door = names.filter((name) => !name.startsWith(`${version}/`));
  assert.deepEqual(door.filter((name) => !/^(index\.html|sw\.js|manifest\.webmanifest|icons\/.*|schema\/.*)$/.test(name)), []);
  const page = await readFile(join(site, 'index.html'), 'utf8');
  const addresses = [...page.matchAll(/(?:href|src)="([^"#]+)"/g)].map(([, address]) => address);
  assert.ok(addresses.length > 5);
  for (const address of addresses) assert.ok(names.includes(address), `${address} is there`);
});

test('the same page gets the same version, another page another', async (context) => {
  const folder = await scratch(context);
  const [one, two, three] = ['one', 'two', 'three'].map((name) => join(folder, name));
  const first = await release(WWW, one, '1.0.0');
  assert.deepEqual(await release(WWW, one, '1.0.0'), first, 'over what was there');
  assert.notEqual((await release(WWW, two, '1.0.1')).version, first.version);
  const changed = join(folder, 'www');
  await cp(WWW, changed, { recursive: true });
  await writeFile(join(changed, 'css/grade.css'), '/* other */');
  assert.notEqual((await release(changed, three, '1.0.0')).version, first.version);
});
