import type { ByteSource } from "../byte-source.js";
import { damaged } from "../refusal.js";

/** A chunk of a RIFF file: its name, and where its content lies. */
export interface RiffChunk {
  readonly id: string;
  readonly start: number;
  /** As written in the file, or from `ds64`; may reach past the end of the file. */
  readonly claimedBytes: number;
}

/** The outer frame of a WAVE file. */
export interface RiffFile {
  readonly form: "RIFF" | "RF64" | "BW64";
  /** Whether the sizes in the header were filled in when the recording ended. */
  readonly sizesKnown: boolean;
  readonly format: DataView;
  readonly data: RiffChunk;
}

const UNKNOWN_SIZE = 0xffffffff;
// Writers to a pipe put a size near 2 GiB or 4 GiB where they cannot know it.
const PIPE_SIZE = 0x7fff0000;
const MOST_CHUNKS = 4096;

const view = (bytes: Uint8Array): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

const idAt = (bytes: Uint8Array, at: number): string =>
  String.fromCharCode(...bytes.subarray(at, at + 4));

const isChunkId = (id: string): boolean => /^[\x20-\x7e]{4}$/.test(id);

// Chunks of odd length are followed by a zero byte; some writers forget it.
async function nextChunkStart(source: ByteSource, end: number): Promise<number> {
  if (end % 2 === 0) return end;
  const around = await source.read(end, 9);
  const padded = isChunkId(idAt(around, 1)) || around.length < 5;
  return padded || !isChunkId(idAt(around, 0)) ? end + 1 : end;
}

const sizeOf64 = (content: DataView, at: number): number =>
  content.getUint32(at, true) + content.getUint32(at + 4, true) * 2 ** 32;

/**
 * Walks the chunks of a RIFF or RF64 file up to its `data` chunk.
 *
 * Sizes of 0 and of 0xFFFFFFFF in an unfinished header mean "to the end of the file". Throws
 * `recording-damaged` where `fmt ` or `data` is missing. Source: RIFF/WAVE (Microsoft and IBM,
 * Multimedia Programming Interface 1.0, 1991); RF64: EBU Tech 3306.
 */
export async function readRiff(source: ByteSource): Promise<RiffFile> {
  const head = await source.read(0, 12);
  const form = idAt(head, 0) as RiffFile["form"];
  const riffBytes = view(head).getUint32(4, true);
  let format: DataView | null = null;
  let longDataBytes: number | null = null;
  let at = 12;
  for (let count = 0; count < MOST_CHUNKS && at + 8 <= source.sizeBytes; count++) {
    const header = await source.read(at, 8);
    const id = idAt(header, 0);
    const size = view(header).getUint32(4, true);
    const start = at + 8;
    if (id === "fmt ") format = view(await source.read(start, Math.min(size, 64)));
    if (id === "ds64") {
      const content = view(await source.read(start, Math.min(size, 24)));
      if (content.byteLength >= 16) longDataBytes = sizeOf64(content, 8);
    }
    if (id === "data") {
      if (format === null) break;
      const claimed = size === UNKNOWN_SIZE && longDataBytes !== null ? longDataBytes : size;
      const sizesKnown = dataSizeKnown(claimed, riffBytes, source.sizeBytes);
      return { form, sizesKnown, format, data: { id, start, claimedBytes: claimed } };
    }
    at = await nextChunkStart(source, start + size);
  }
  const missing = format === null ? "format" : "sound data";
  throw damaged(source.name, `the WAV file holds no ${missing}`, { missing });
}

function dataSizeKnown(claimed: number, riffBytes: number, fileBytes: number): boolean {
  if (claimed === UNKNOWN_SIZE) return false;
  if (claimed === 0) return riffBytes + 8 === fileBytes;
  return !(claimed >= PIPE_SIZE && claimed > fileBytes);
}
