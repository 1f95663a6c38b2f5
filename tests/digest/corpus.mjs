// The shots that the native test left in the target folder, and what is recorded about them.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { initSync, modelVersion } from '../../www/pkg/leaveline.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
export const PACKAGE = join(ROOT, 'www/pkg');
initSync({ module: await readFile(join(PACKAGE, 'leaveline_bg.wasm')) });

const { target_directory: target } = JSON.parse(
  execFileSync('cargo', ['metadata', '--format-version', '1', '--no-deps'], { cwd: ROOT, encoding: 'utf8' }),
);
/** The folder of the shots. */
export const SHOTS = join(target, 'tmp/digest');

const record = JSON.parse(await readFile(join(ROOT, 'tests/golden/digest.json'), 'utf8'));

/** What is recorded for each block, with this version of the model. */
export const BLOCKS = record[modelVersion()]?.blocks ?? [];

/** Fails unless every block was played as recorded; names the first shots that were not. */
export async function compare(digests) {
  assert.ok(BLOCKS.length > 0, `tests/golden/digest.json knows no version ${modelVersion()} of the model`);
  assert.equal(digests.length, BLOCKS.length, 'every block was played');
  const stale = 'the target folder holds other shots than those recorded: run cargo test --test it digest, then scripts/build';
  digests.forEach(({ shots }, k) => assert.equal(shots, BLOCKS[k].shots, stale));
  if (digests.every(({ outcomes }, k) => outcomes === BLOCKS[k].outcomes)) return;
  const native = JSON.parse(await readFile(join(SHOTS, 'outcomes.json'), 'utf8'));
  const different = digests.flatMap(({ each }) => each).flatMap((digest, k) => (digest === native[k] ? [] : [k]));
  const blocks = digests.flatMap(({ outcomes }, k) => (outcomes === BLOCKS[k].outcomes ? [] : [k]));
  const size = digests[0].each.length;
  const places = different.slice(0, 10).map((k) => `  shot ${k}: ${SHOTS}/shots-${Math.floor(k / size)}.json:${2 + (k % size)}`);
  assert.fail(
    [`Blocks ${blocks} differ from the record.`, `${different.length} shots differ from the latest native run:`, ...places].join('\n'),
  );
}
