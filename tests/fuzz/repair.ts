import { crc16, crc8 } from "../../src/recording/decode/flac/crc.js";

// The check sum of an Ogg page: polynomial 0x04c11db7, no reflection, start 0. RFC 3533, section 6.
const oggTable = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte << 24;
  for (let bit = 0; bit < 8; bit++) value = value < 0 ? (value << 1) ^ 0x04c11db7 : value << 1;
  return value >>> 0;
});

function repairOgg(bytes: Uint8Array): void {
  for (let at = 0; at + 27 <= bytes.length; at++) {
    if (bytes[at] !== 0x4f || bytes[at + 1] !== 0x67 || bytes[at + 2] !== 0x67) continue;
    const segments = bytes[at + 26]!;
    let end = at + 27 + segments;
    for (let i = 0; i < segments; i++) end += bytes[at + 27 + i] ?? 0;
    if (end > bytes.length) continue;
    bytes.fill(0, at + 22, at + 26);
    let sum = 0;
    for (let i = at; i < end; i++) sum = (sum << 8) ^ oggTable[(sum >>> 24) ^ bytes[i]!]!;
    new DataView(bytes.buffer, bytes.byteOffset).setUint32(at + 22, sum >>> 0, true);
    at = end - 1;
  }
}

// Every stretch from one frame mark to the next is taken for a frame; where it is one, its sums fit again.
function repairFlac(bytes: Uint8Array): void {
  const marks: number[] = [];
  for (let at = 0; at + 2 <= bytes.length; at++) {
    if (bytes[at] === 0xff && (bytes[at + 1]! & 0xfe) === 0xf8) marks.push(at);
  }
  for (const [i, start] of marks.entries()) {
    const end = marks[i + 1] ?? bytes.length;
    const ones = Math.clz32(~(bytes[start + 4]! << 24));
    const size = bytes[start + 2]! >> 4;
    const rate = bytes[start + 2]! & 15;
    const numberBytes = Math.max(1, ones);
    const sizeBytes = size === 6 ? 1 : size === 7 ? 2 : 0;
    const rateBytes = rate < 12 ? 0 : rate === 12 ? 1 : 2;
    const sumAt = start + 4 + numberBytes + sizeBytes + rateBytes;
    if (sumAt + 3 > end) continue;
    bytes[sumAt] = crc8(bytes, start, sumAt);
    const sum = crc16(bytes, start, end - 2);
    bytes[end - 2] = sum >> 8;
    bytes[end - 1] = sum & 0xff;
  }
}

/** Makes the check sums of Ogg pages and FLAC frames fit again, so that a change reaches the decoder. */
export function repairSums(bytes: Uint8Array): void {
  if (bytes[0] === 0x4f && bytes[1] === 0x67) repairOgg(bytes);
  if (bytes[0] === 0x66 && bytes[1] === 0x4c) repairFlac(bytes);
}
