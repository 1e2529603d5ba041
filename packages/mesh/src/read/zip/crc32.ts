const table = Uint32Array.from({ length: 256 }, (_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? 0xedb88320 ^ (crc >>> 1) : crc >>> 1;
  return crc;
});

/**
 * CRC-32 as ZIP uses it (ISO 3309, reflected polynomial 0xEDB88320).
 *
 * @param crc the value so far, to go on with; 0 at first.
 */
export function crc32(bytes: Uint8Array, crc = 0): number {
  let value = ~crc;
  for (let i = 0; i < bytes.length; i++) value = table[(value ^ bytes[i]) & 0xff] ^ (value >>> 8);
  return ~value >>> 0;
}
