// The shipped package plays ten thousand shots to the bits of native code, in Node and in Chromium.
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { playPacked } from '../../www/pkg/leaveline.js';
import { playIn } from './browser.mjs';
import { BLOCKS, SHOTS, compare } from './corpus.mjs';
import { digestsOf } from './page/play.js';

test('Node plays as recorded', async () => {
  const digests = [];
  for (const number of BLOCKS.keys()) digests.push(await digestsOf(playPacked, await readFile(join(SHOTS, `shots-${number}.json`))));
  await compare(digests);
});

test('Chromium plays as recorded', (context) => playIn(context, 'chromium'));
