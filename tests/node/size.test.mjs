// The built page stays within the budgets of scripts/size.mjs.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { BUDGET, FIRST, inWords, pageWeight, reached } from '../../scripts/size.mjs';

const www = fileURLToPath(new URL('../../www/', import.meta.url));
const weight = pageWeight(www);
const look = `see "Size" in DEVELOPERS.md for how to find what grew\n${inWords(weight)}`;

test('both cores are within their budgets', (t) => {
  for (const line of inWords(weight).split('\n')) t.diagnostic(line);
  for (const name of ['small', 'wasm']) assert.ok(weight[name].gzip <= BUDGET[name], `${name}: ${look}`);
});

test('what the page loads before Read is open is within its budget', () => {
  assert.ok(weight.first.gzip <= BUDGET.first, look);
});

test('what is there is loaded sooner or later', () => {
  assert.deepEqual(reached(www, ['index.html'], true), Object.keys(weight.files));
});

test('Read loads nothing of the other parts', () => {
  const first = reached(www, FIRST, false);
  assert.ok(first.includes('js/main.js') && first.includes('pkg/read_bg.wasm'), first.join(', '));
  assert.deepEqual(first.filter((name) => /^(js|css)\/(leave|clear|bench|zone|sets|strip)|^pkg\/leaveline/.test(name)), []);
});
