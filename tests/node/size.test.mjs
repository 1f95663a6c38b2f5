// The built page stays within the budgets of scripts/size.mjs.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { BUDGET, inWords, pageWeight } from '../../scripts/size.mjs';

const www = new URL('../../www/', import.meta.url);
const weight = pageWeight(fileURLToPath(www));
const look = `see "Size" in DEVELOPERS.md for how to find what grew\n${inWords(weight)}`;

test('the core is within its budget', (t) => {
  for (const line of inWords(weight).split('\n')) t.diagnostic(line);
  assert.ok(weight.wasm.gzip <= BUDGET.wasm, look);
});

test('the whole page is within its budget', () => {
  assert.ok(weight.page.gzip <= BUDGET.page, look);
});

/** The files of ours that a file names: what it imports, starts as a worker, links or shows. */
async function named(file) {
  const text = (await readFile(new URL(file, www), 'utf8')).replace(/\/\*[^]*?\*\/|^\s*\/\/.*$/gm, '');
  const patterns = file.endsWith('.html')
    ? /(?:src|<link[^>]* href)="([^"#]+)"/g
    : /(?:from|import) '(\.[^']+)'|new URL\(['"]([^'"]+)['"], import\.meta\.url\)|url\(['"]?([^'"#)]+)/g;
  return [...text.matchAll(patterns)].map((match) => new URL(match.slice(1).find(Boolean), new URL(file, www)).href.slice(www.href.length));
}

test('what the page loads is what is weighed', async () => {
  const reached = new Set(['index.html']);
  for (const file of reached) {
    if (/\.(html|css|js)$/.test(file)) for (const other of await named(file)) reached.add(other);
  }
  assert.deepEqual([...reached].sort(), Object.keys(weight.files));
});
