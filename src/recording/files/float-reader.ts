/** Channels and rate of a stream. */
export interface FloatShape {
  readonly channelCount: number;
  readonly sampleRateHz: number;
}

/** Takes a 32-bit float WAV stream apart as its bytes arrive. */
export interface FloatReader {
  /** Known once the header has come. */
  readonly shape: FloatShape | null;
  /** Adds bytes; true once the header is complete. */
  push(piece: Uint8Array): boolean;
  /** The whole frames that have arrived since the last call; null where there is none. */
  take(): Float32Array[] | null;
}

const idAt = (bytes: Uint8Array, at: number): string =>
  String.fromCharCode(...bytes.subarray(at, at + 4));

export function createFloatReader(): FloatReader {
  let pending: Uint8Array = new Uint8Array(0);
  let shape: FloatShape | null = null;
  return {
    get shape() {
      return shape;
    },
    push: (piece) => {
      const joined = new Uint8Array(pending.length + piece.length);
      joined.set(pending);
      joined.set(piece, pending.length);
      pending = joined;
      if (shape === null) {
        const header = readHeader(pending);
        if (header === null) return false;
        shape = header.shape;
        pending = pending.slice(header.bytes);
      }
      return true;
    },
    take: () => {
      if (shape === null) return null;
      const frameBytes = 4 * shape.channelCount;
      const frames = Math.floor(pending.length / frameBytes);
      if (frames === 0) return null;
      const block = split(pending, frames, shape.channelCount);
      pending = pending.slice(frames * frameBytes);
      return block;
    },
  };
}

function readHeader(bytes: Uint8Array): { shape: FloatShape; bytes: number } | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let shape: FloatShape | null = null;
  for (let at = 12; at + 8 <= bytes.length;) {
    const id = idAt(bytes, at);
    if (id === "data") return shape === null ? null : { shape, bytes: at + 8 };
    if (id === "fmt " && at + 24 <= bytes.length) {
      shape = {
        channelCount: view.getUint16(at + 10, true),
        sampleRateHz: view.getUint32(at + 12, true),
      };
    }
    at += 8 + view.getUint32(at + 4, true);
  }
  return null;
}

function split(bytes: Uint8Array, frames: number, channelCount: number): Float32Array[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return Array.from({ length: channelCount }, (_, c) => {
    const channel = new Float32Array(frames);
    for (let i = 0, at = 4 * c; i < frames; i++, at += 4 * channelCount) {
      channel[i] = view.getFloat32(at, true);
    }
    return channel;
  });
}
