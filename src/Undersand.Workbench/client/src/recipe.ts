/** Puts a recipe into a PNG as international text (W3C PNG, third edition, iTXt): keyword “Recipe”, UTF-8, not compressed, before the last chunk. */
export function withRecipe(png: Uint8Array, recipe: string): Uint8Array {
  const words = new TextEncoder(), body = new Uint8Array([...words.encode('iTXtRecipe'), 0, 0, 0, 0, 0, ...words.encode(recipe)]);
  const chunk = new Uint8Array(body.length + 8), view = new DataView(chunk.buffer), end = png.length - 12;
  view.setUint32(0, body.length - 4);
  chunk.set(body, 4);
  view.setUint32(body.length + 4, crc(body));
  const all = new Uint8Array(png.length + chunk.length);
  all.set(png.subarray(0, end));
  all.set(chunk, end);
  all.set(png.subarray(end), end + chunk.length);
  return all;
}

function crc(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const b of bytes) {
    c ^= b;
    for (let k = 0; k < 8; k++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1;
  }
  return ~c >>> 0;
}
