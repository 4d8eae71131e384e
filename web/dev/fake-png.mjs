/** A PNG writer for the fake server: 8 bit, three channels, rows from the top. */
import { crc32, deflateSync } from "node:zlib";

const table = new Uint32Array(256).map((_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});
const crcOf =
  crc32 ??
  ((data) => {
    let c = 0xffffffff;
    for (const b of data) c = table[(c ^ b) & 255] ^ (c >>> 8);
    return (c ^ 0xffffffff) >>> 0;
  });

function chunk(name, data) {
  const out = Buffer.alloc(data.length + 12);
  out.writeUInt32BE(data.length, 0);
  out.write(name, 4, "latin1");
  data.copy(out, 8);
  out.writeUInt32BE(crcOf(out.subarray(4, 8 + data.length)), 8 + data.length);
  return out;
}

/** `at(x, y)` gives [r, g, b]. */
export function png(width, height, at) {
  const raw = Buffer.alloc((width * 3 + 1) * height);
  for (let y = 0, i = 0; y < height; y++) {
    raw[i++] = 0;
    for (let x = 0; x < width; x++) {
      const c = at(x, y);
      raw[i++] = c[0];
      raw[i++] = c[1];
      raw[i++] = c[2];
    }
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 2, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]),
    chunk("IHDR", head),
    chunk("IDAT", deflateSync(raw, { level: 3 })),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}
