// What colours say is also said by line types, numbers and words; and the colours themselves are told apart by eyes that
// see some of them alike.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';

const text = await readFile(new URL('../../www/css/tokens.css', import.meta.url), 'utf8');
const [, night] = text.split('@media');

/** The colours of a block of the style sheet. @param {string} block */
const tokens = (block) => Object.fromEntries([...block.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(([, name, value]) => [name, value]));
const DAY = tokens(text.slice(0, text.indexOf('@media')));
const LOOKS = { day: DAY, night: { ...DAY, ...tokens(night) } };

/**
 * Eyes, as matrices on linear RGB.
 * Source: Machado, Oliveira and Fernandes 2009, IEEE TVCG 15(6), 1291, table of severity 1.0; the numbers are from memory,
 * and each row sums to 1, so that white stays white.
 */
const EYES = {
  usual: [[1, 0, 0], [0, 1, 0], [0, 0, 1]],
  protan: [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
  deutan: [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.01182, 0.04294, 0.968881]],
  tritan: [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.3039]],
};

/** Linear RGB of a colour. Source: IEC 61966-2-1 (sRGB). @param {string} hex */
function linear(hex) {
  const channels = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255);
  return channels.map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
}

/** What an eye makes of a colour, linear RGB within the gamut. */
const seen = (hex, eye) => eye.map((row) => Math.min(1, Math.max(0, row.reduce((sum, share, k) => sum + share * linear(hex)[k], 0))));

/** Source: WCAG 2.2, relative luminance and contrast ratio. */
const luminance = ([r, g, b]) => 0.2126 * r + 0.7152 * g + 0.0722 * b;
function contrast(a, b) {
  const [high, low] = [luminance(a), luminance(b)].sort((one, other) => other - one);
  return (high + 0.05) / (low + 0.05);
}

/** CIE 1976 L*a*b* under D65. Source: CIE 15, by way of IEC 61966-2-1's primaries. */
function lab([r, g, b]) {
  const xyz = [0.4124 * r + 0.3576 * g + 0.1805 * b, 0.2126 * r + 0.7152 * g + 0.0722 * b, 0.0193 * r + 0.1192 * g + 0.9505 * b];
  const [x, y, z] = xyz.map((value, k) => value / [0.9505, 1, 1.089][k]).map((t) => (t > 216 / 24389 ? Math.cbrt(t) : (24389 / 27 * t + 16) / 116));
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}
const apart = (a, b) => Math.hypot(...lab(a).map((value, k) => value - lab(b)[k]));

/** All looks through all eyes. @param {(colours: Record<string, string>, eye: number[][], name: string) => void} check */
const everywhere = (check) => {
  for (const [look, colours] of Object.entries(LOOKS)) {
    for (const [name, eye] of Object.entries(EYES)) check(colours, eye, `${look}, ${name}`);
  }
};

test('white stays white to every eye', () => {
  for (const eye of Object.values(EYES)) for (const row of eye) assert.ok(Math.abs(row.reduce((sum, share) => sum + share, 0) - 1) < 2e-6);
});

// Source: WCAG 2.2, 1.4.11: parts of a drawing that are needed to understand it have a contrast of 3 to 1.
test('every line that means something stands out from the cloth', () => {
  everywhere((colours, eye, name) => {
    for (const line of ['call', 'real', 'sender', 'zone', 'ink', 'muted', 'focus']) {
      const ratio = contrast(seen(colours[line], eye), seen(colours.cloth, eye));
      assert.ok(ratio >= 3, `${name}: ${line} has ${ratio.toFixed(2)} to 1`);
    }
  });
});

// Source: WCAG 2.2, 1.4.3: text has 4.5 to 1.
test('texts stand out from what they stand on', () => {
  everywhere((colours, eye, name) => {
    for (const [words, ground] of [['ink', 'paper'], ['muted', 'paper'], ['ink', 'lift'], ['on-ink', 'ink'], ['ink', 'cloth'], ['muted', 'cloth'], ['call', 'cloth']]) {
      const ratio = contrast(seen(colours[words], eye), seen(colours[ground], eye));
      assert.ok(ratio >= 4.5, `${name}: ${words} on ${ground} has ${ratio.toFixed(2)} to 1`);
    }
  });
});

// The call is dashed, the real path solid and the sender's dotted, whatever their colours. A difference of 20 in L*a*b* is
// plain to see in a line (tuning choice: a just noticeable one is 2.3, of large patches).
test('the called path and the real one are told apart by their colours, too', () => {
  everywhere((colours, eye, name) => {
    const far = apart(seen(colours.call, eye), seen(colours.real, eye));
    assert.ok(far >= 20, `${name}: ${far.toFixed(1)}`);
  });
});
