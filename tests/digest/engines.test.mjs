// In the other engines, too: the shipped package plays ten thousand shots to the bits of native code, moving pictures run,
// and the main way through each part can be gone.
import { test } from 'node:test';
import { playIn } from './browser.mjs';
import { moveIn } from './moving.mjs';
import { walkIn } from './walk.mjs';

test('Firefox plays as recorded', (context) => playIn(context, 'firefox'));
test('WebKit plays as recorded', (context) => playIn(context, 'webkit'));
test('Firefox runs a moving picture', (context) => moveIn(context, 'firefox'));
test('WebKit runs a moving picture', (context) => moveIn(context, 'webkit'));
test('Firefox goes the main way through each part', (context) => walkIn(context, 'firefox'));
test('WebKit goes the main way through each part', (context) => walkIn(context, 'webkit'));
