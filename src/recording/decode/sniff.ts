/** What the first bytes say a file is. */
export type Sniffed =
  | { readonly kind: "wav" | "mp4" | "mp3" | "adts" | "flac" | "ogg" | "matroska" }
  | { readonly kind: "foreign"; readonly name: string }
  | { readonly kind: "not-audio"; readonly name: string }
  | { readonly kind: "unknown" };

const ascii = (head: Uint8Array, start: number, length: number): string =>
  String.fromCharCode(...head.subarray(start, start + length));

// Sound formats known by their first bytes that no decoder here reads.
const foreignMagic: readonly (readonly [start: string, name: string])[] = [
  ["#!AMR-WB", "AMR, amr-wb"],
  ["#!AMR", "AMR, amr-nb"],
  ["caff", "CAF"],
  ["\x30\x26\xb2\x75\x8e\x66\xcf\x11", "WMA or other ASF"],
  ["FORM", "AIFF"],
  [".snd", "AU"],
  ["RIFX", "big-endian WAV (RIFX)"],
  ["riff\x2e\x91\xcf\x11", "Wave64"],
  ["wvpk", "WavPack"],
  ["MAC ", "Monkey's Audio"],
  ["ADIF", "AAC in ADIF"],
  ["FLV", "FLV video"],
  ["\0\0\x01\xba", "MPEG programme stream"],
];

const otherMagic: readonly (readonly [start: string, name: string])[] = [
  ["%PDF", "a PDF document"],
  ["PK\x03\x04", "a ZIP archive or an office document"],
  ["\x1f\x8b", "a gzip archive"],
  ["\x89PNG", "a PNG picture"],
  ["\xff\xd8\xff", "a JPEG picture"],
  ["GIF8", "a GIF picture"],
  ["\x7fELF", "a program"],
  ["MZ", "a program"],
  ["MThd", "a MIDI file, which holds notes and no sound"],
];

/** Length of an ID3v2 tag at the start, footer included, 0 where there is none. ID3v2.4 §3.1. */
export function id3Bytes(head: Uint8Array): number {
  if (head.length < 10 || ascii(head, 0, 3) !== "ID3") return 0;
  const size = (head[6]! << 21) | (head[7]! << 14) | (head[8]! << 7) | head[9]!;
  return 10 + size + ((head[5]! & 0x10) !== 0 ? 10 : 0);
}

/** Whether an MPEG audio frame header stands here; layer bits 00 mean ADTS. */
function mpegSync(head: Uint8Array, at: number): "mp3" | "adts" | null {
  if (at + 4 > head.length || head[at] !== 0xff || (head[at + 1]! & 0xe0) !== 0xe0) return null;
  if ((head[at + 1]! & 0xf6) === 0xf0) return (head[at + 2]! & 0x3c) >> 2 < 13 ? "adts" : null;
  const version = (head[at + 1]! >> 3) & 3;
  const layer = (head[at + 1]! >> 1) & 3;
  const bitrate = head[at + 2]! >> 4;
  const rate = (head[at + 2]! >> 2) & 3;
  return version !== 1 && layer !== 0 && bitrate !== 15 && rate !== 3 ? "mp3" : null;
}

function looksLikeText(head: Uint8Array): boolean {
  const looked = head.subarray(0, 512);
  return looked.every((byte) => byte >= 0x20 || (byte >= 0x07 && byte <= 0x0d) || byte === 0x1b);
}

function riffKind(head: Uint8Array): Sniffed {
  const form = ascii(head, 8, 4);
  if (form === "WAVE") return { kind: "wav" };
  if (form === "AVI ") return { kind: "foreign", name: "AVI video" };
  return { kind: "not-audio", name: `a RIFF file of kind "${form}"` };
}

const isoBrands = ["ftyp", "moov", "mdat", "wide", "free", "skip", "pnot", "moof", "styp"];
const pictureBrands = ["heic", "heix", "mif1", "msf1", "avif"];

function isoKind(head: Uint8Array): Sniffed | null {
  if (!isoBrands.includes(ascii(head, 4, 4))) return null;
  if (ascii(head, 4, 4) === "ftyp" && pictureBrands.includes(ascii(head, 8, 4))) {
    return { kind: "not-audio", name: "a picture" };
  }
  return { kind: "mp4" };
}

function listed(head: Uint8Array): Sniffed | null {
  const starts = ([magic]: readonly [string, string]): boolean =>
    ascii(head, 0, magic.length) === magic;
  const foreign = foreignMagic.find(starts);
  if (foreign) return { kind: "foreign", name: foreign[1] };
  const other = otherMagic.find(starts);
  return other ? { kind: "not-audio", name: other[1] } : null;
}

function distinct(head: Uint8Array): Sniffed | null {
  const first4 = ascii(head, 0, 4);
  if (first4 === "RIFF" || first4 === "RF64" || first4 === "BW64") return riffKind(head);
  if (first4 === "fLaC") return { kind: "flac" };
  if (first4 === "OggS") return { kind: "ogg" };
  if (first4 === "\x1a\x45\xdf\xa3") return { kind: "matroska" };
  return isoKind(head);
}

function behindTag(body: Uint8Array): Sniffed {
  if (ascii(body, 0, 4) === "fLaC") return { kind: "flac" };
  return { kind: mpegSync(body, 0) ?? "mp3" };
}

/**
 * Tells a file's format from its content; the name of the file is not asked.
 *
 * @param head the first bytes, 4 KiB are plenty
 * @param afterTag the bytes that follow an ID3v2 tag, where the tag is longer than `head`
 */
export function sniff(head: Uint8Array, afterTag?: Uint8Array): Sniffed {
  const plain = distinct(head);
  if (plain) return plain;
  const tag = id3Bytes(head);
  if (tag > 0) return behindTag(afterTag ?? head.subarray(tag));
  const known = listed(head);
  if (known) return known;
  const sync = mpegSync(head, 0);
  if (sync) return { kind: sync };
  if (head[0] === 0x47 && head[188] === 0x47) {
    return { kind: "foreign", name: "MPEG transport stream" };
  }
  return looksLikeText(head) ? { kind: "not-audio", name: "a text file" } : { kind: "unknown" };
}
