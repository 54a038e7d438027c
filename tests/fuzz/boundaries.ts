/** One piece of a sound file with a beginning and an end: a chunk, box, page, element or frame. */
export interface Piece {
  readonly start: number;
  readonly end: number;
  /** Where its length is written: place and number of bytes; 0 bytes where it is not. */
  readonly sizeAt: number;
  readonly sizeBytes: number;
}

const ascii = (bytes: Uint8Array, at: number, length: number): string =>
  String.fromCharCode(...bytes.subarray(at, at + length));

const view = (bytes: Uint8Array): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

function riffChunks(bytes: Uint8Array): Piece[] {
  const found: Piece[] = [];
  for (let at = 12; at + 8 <= bytes.length;) {
    const end = Math.min(bytes.length, at + 8 + view(bytes).getUint32(at + 4, true));
    found.push({ start: at, end, sizeAt: at + 4, sizeBytes: 4 });
    at = end + (end % 2);
  }
  return found;
}

const BOXES_OF_BOXES = "moov trak mdia minf stbl moof traf mvex edts udta dinf wave".split(" ");

// ISO/IEC 14496-12, 4.2: four bytes of size, four of name, then the content.
function isoBoxes(bytes: Uint8Array, from = 0, to = bytes.length): Piece[] {
  const found: Piece[] = [];
  for (let at = from; at + 8 <= to;) {
    const size = view(bytes).getUint32(at, false);
    const end = size < 8 || at + size > to ? to : at + size;
    found.push({ start: at, end, sizeAt: at, sizeBytes: 4 });
    if (BOXES_OF_BOXES.includes(ascii(bytes, at + 4, 4)))
      found.push(...isoBoxes(bytes, at + 8, end));
    at = end;
  }
  return found;
}

// A variable-length number: the leading zeros of the first byte tell how many bytes follow. RFC 8794, 4.
function readVint(bytes: Uint8Array, at: number, keepMark: boolean): [value: number, size: number] {
  const size = Math.clz32(bytes[at]! << 24) + 1;
  let value = keepMark ? bytes[at]! : bytes[at]! & (0xff >> size);
  for (let i = 1; i < size; i++) value = value * 256 + (bytes[at + i] ?? 0);
  return [value, size];
}

const MASTERS = new Set([
  0x1a45dfa3, 0x18538067, 0x1549a966, 0x1654ae6b, 0xae, 0xe1, 0x1f43b675, 0xa0, 0x1c53bb6b, 0xbb,
  0xb7, 0x114d9b74, 0x4dbb,
]);

function ebmlElements(bytes: Uint8Array, from = 0, to = bytes.length): Piece[] {
  const found: Piece[] = [];
  for (let at = from; at + 2 <= to && bytes[at]! >= 0x10;) {
    const [id, idBytes] = readVint(bytes, at, true);
    const [size, sizeBytes] = readVint(bytes, at + idBytes, false);
    const content = at + idBytes + sizeBytes;
    const end = Math.max(content, Math.min(to, content + size));
    found.push({ start: at, end, sizeAt: at + idBytes, sizeBytes });
    if (MASTERS.has(id)) found.push(...ebmlElements(bytes, content, end));
    at = end;
  }
  return found;
}

function betweenMarks(bytes: Uint8Array, isMark: (at: number) => boolean): Piece[] {
  const marks: number[] = [];
  for (let at = 0; at < bytes.length; at++) if (isMark(at)) marks.push(at);
  return marks.map((start, i) => ({
    start,
    end: marks[i + 1] ?? bytes.length,
    sizeAt: start,
    sizeBytes: 0,
  }));
}

function flacBlocks(bytes: Uint8Array): Piece[] {
  const found: Piece[] = [];
  for (let at = 4; at + 4 <= bytes.length;) {
    const end = Math.min(bytes.length, at + 4 + (view(bytes).getUint32(at, false) & 0xffffff));
    found.push({ start: at, end, sizeAt: at + 1, sizeBytes: 3 });
    if ((bytes[at]! & 0x80) !== 0) break;
    at = end;
  }
  const first = found.at(-1)?.end ?? 4;
  const isSync = (at: number): boolean => bytes[at] === 0xff && (bytes[at + 1]! & 0xfe) === 0xf8;
  return [...found, ...betweenMarks(bytes, (at) => at >= first && isSync(at))];
}

/** The pieces of a file by its format; every kilobyte where the format is not known. */
export function piecesOf(bytes: Uint8Array): Piece[] {
  const first = ascii(bytes, 0, 4);
  if (first === "RIFF" || first === "RF64") return riffChunks(bytes);
  if (first === "fLaC") return flacBlocks(bytes);
  // The first letter first, since a text for every place takes long.
  const isPage = (at: number): boolean => bytes[at] === 0x4f && ascii(bytes, at, 4) === "OggS";
  if (first === "OggS") return betweenMarks(bytes, isPage);
  if (first === "\x1a\x45\xdf\xa3") return ebmlElements(bytes);
  if (["ftyp", "wide", "moov", "mdat"].includes(ascii(bytes, 4, 4))) return isoBoxes(bytes);
  const isSync = (at: number): boolean => bytes[at] === 0xff && (bytes[at + 1]! & 0xe0) === 0xe0;
  if (isSync(0) || first.startsWith("ID3")) return betweenMarks(bytes, isSync);
  return betweenMarks(bytes, (at) => at % 1024 === 0);
}
