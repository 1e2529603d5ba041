// Reading floors: read the file whole and add up its floats, once with Node's own readers of numbers and once with the
// fastest loop we know. Nothing that needs every number can be faster in Node without streaming.
import { readFileSync } from 'node:fs';

export const works = {
  /** `Buffer.readFloatLE`: how Node itself reads a float. */
  measure([file]) {
    const bytes = readFileSync(file);
    const facets = bytes.readUInt32LE(80);
    let sum = 0;
    for (let facet = 0; facet < facets; facet++) {
      const at = 84 + 50 * facet;
      for (let k = 0; k < 48; k += 4) sum += bytes.readFloatLE(at + k);
    }
    return { facets, sum };
  },
  /** `DataView`: two to four times as fast. */
  fastest([file]) {
    const bytes = readFileSync(file);
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const facets = view.getUint32(80, true);
    let sum = 0;
    for (let facet = 0; facet < facets; facet++) {
      const at = 84 + 50 * facet;
      for (let k = 0; k < 48; k += 4) sum += view.getFloat32(at + k, true);
    }
    return { facets, sum };
  },
};
