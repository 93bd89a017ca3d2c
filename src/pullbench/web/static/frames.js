/** A binary frame of strip columns: where they start, how long each is, and their least and greatest force. */

const HEAD_BYTES = 16;

/**
 * @param {ArrayBuffer} buffer little endian: float64 start_s, float64 column_s, then float32 pairs (min, max)
 * @returns {{start_s: number, column_s: number, pairs: Float32Array, count: number} | null} null when it is none
 */
export function readFrame(buffer) {
  if (buffer.byteLength < HEAD_BYTES || (buffer.byteLength - HEAD_BYTES) % 8 !== 0) return null;
  const view = new DataView(buffer);
  const start_s = view.getFloat64(0, true);
  const column_s = view.getFloat64(8, true);
  if (!Number.isFinite(start_s) || !(column_s > 0)) return null;
  const count = (buffer.byteLength - HEAD_BYTES) / 8;
  return { start_s, column_s, count, pairs: pairsOf(buffer, view, count) };
}

/** A Float32Array reads in the machine's own order, which is the frame's on all but a few machines. */
function pairsOf(buffer, view, count) {
  if (new Uint8Array(new Uint16Array([1]).buffer)[0] === 1) return new Float32Array(buffer, HEAD_BYTES, 2 * count);
  const pairs = new Float32Array(2 * count);
  for (let i = 0; i < pairs.length; i += 1) pairs[i] = view.getFloat32(HEAD_BYTES + 4 * i, true);
  return pairs;
}
