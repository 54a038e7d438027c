/** Random access to the bytes of one recording, wherever they lie. */
export interface ByteSource {
  /** Name used in messages, usually the path as the user gave it. */
  readonly name: string;
  readonly sizeBytes: number;
  /** Bytes `start <= i < start + length`; shorter only where the recording ends. */
  read(start: number, length: number): Promise<Uint8Array>;
}

/** A recording that is already in memory. */
export function bytesSource(bytes: Uint8Array, name = "recording"): ByteSource {
  return {
    name,
    sizeBytes: bytes.length,
    read: (start, length) =>
      Promise.resolve(bytes.subarray(start, Math.min(bytes.length, start + length))),
  };
}

/** The bytes from `start` on, in pieces of at most `pieceBytes`. */
export async function* pieces(
  source: ByteSource,
  start = 0,
  pieceBytes = 1 << 16,
): AsyncGenerator<Uint8Array> {
  for (let at = start; at < source.sizeBytes;) {
    const piece = await source.read(at, pieceBytes);
    if (piece.length === 0) return;
    yield piece;
    at += piece.length;
  }
}
