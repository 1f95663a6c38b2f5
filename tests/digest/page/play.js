// Plays blocks of shots with the package, in Node as in a browser, and takes the digests that tests/it/digest.rs takes.

/** @param {BufferSource} bytes */
const sha256 = async (bytes) => new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));

/** @param {Uint8Array} bytes */
const hex = (bytes) => Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');

/**
 * The digest of a block's file and of its outcomes, and that of each outcome.
 * @param {(shot: unknown) => Float64Array} playPacked The package's own.
 * @param {Uint8Array} file
 */
export async function digestsOf(playPacked, file) {
  const shots = JSON.parse(new TextDecoder().decode(file));
  const each = [];
  for (const shot of shots) each.push(await sha256(playPacked(shot)));
  const all = new Uint8Array(each.flatMap((digest) => [...digest]));
  return { shots: hex(await sha256(file)), outcomes: hex(await sha256(all)), each: each.map(hex) };
}
