// Writes a screenshot as a PNG of at most 256 colours: a line drawing needs no more, and takes a third of the room.
import { crc32, deflateSync } from 'node:zlib';

/** The pixels of a PNG, decoded by a browser's page. @returns {Promise<{ width: number, height: number, colours: number[] }>} */
async function decode(page, png) {
  const { width, height, text } = await page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const canvas = new OffscreenCanvas(image.width, image.height);
    const context = canvas.getContext('2d');
    context.drawImage(image, 0, 0);
    const { data } = context.getImageData(0, 0, image.width, image.height);
    const parts = [];
    for (let k = 0; k < data.length; k += 8192) parts.push(String.fromCharCode(...data.subarray(k, k + 8192)));
    return { width: image.width, height: image.height, text: btoa(parts.join('')) };
  }, png.toString('base64'));
  const bytes = Buffer.from(text, 'base64');
  const colours = Array.from({ length: width * height }, (_, k) => bytes.readUIntBE(4 * k, 3));
  return { width, height, colours };
}

const channels = (colour) => [colour >> 16, (colour >> 8) & 255, colour & 255];
const apart = (a, b) => channels(a).reduce((sum, value, k) => sum + (value - channels(b)[k]) ** 2, 0);

/** Of the colours the most frequent ones that are told apart by eye. */
function choose(colours) {
  const counts = new Map();
  for (const colour of colours) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  const byCount = [...counts.keys()].sort((a, b) => counts.get(b) - counts.get(a) || a - b);
  const palette = [];
  for (const colour of byCount) {
    if (palette.length < 256 && palette.every((chosen) => apart(chosen, colour) > 48)) palette.push(colour);
  }
  const nearest = new Map();
  for (const colour of byCount) {
    nearest.set(colour, palette.reduce((best, chosen, at) => (apart(chosen, colour) < apart(palette[best], colour) ? at : best), 0));
  }
  return { palette, nearest };
}

function chunk(name, body) {
  const inner = Buffer.concat([Buffer.from(name), body]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(body.length);
  check.writeUInt32BE(crc32(inner));
  return Buffer.concat([length, inner, check]);
}

/** The same picture with a palette. @param {import('playwright-core').Page} page of about:blank @param {Buffer} png */
export async function withPalette(page, png) {
  const { width, height, colours } = await decode(page, png);
  const { palette, nearest } = choose(colours);
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width);
  header.writeUInt32BE(height, 4);
  header.set([8, 3, 0, 0, 0], 8); // 8 bits, palette, no filter, not interlaced
  const rows = Buffer.alloc((width + 1) * height);
  colours.forEach((colour, k) => (rows[k + Math.floor(k / width) + 1] = nearest.get(colour)));
  return Buffer.concat([
    Buffer.from('89504e470d0a1a0a', 'hex'),
    chunk('IHDR', header),
    chunk('PLTE', Buffer.from(palette.flatMap(channels))),
    chunk('IDAT', deflateSync(rows, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}
