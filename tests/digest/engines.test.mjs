// The shipped package plays ten thousand shots to the bits of native code in the other engines, too.
import { test } from 'node:test';
import { playIn } from './browser.mjs';

test('Firefox plays as recorded', (context) => playIn(context, 'firefox'));
test('WebKit plays as recorded', (context) => playIn(context, 'webkit'));
