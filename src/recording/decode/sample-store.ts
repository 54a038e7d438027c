/** Samples of up to two channels, kept up to a limit. */
export interface SampleStore {
  /** Frames stored. */
  readonly length: number;
  /** Whether more was offered than the limit. */
  readonly overflowed: boolean;
  append(block: readonly Float32Array[]): void;
  /** Forgets the samples but keeps the memory, so that a second pass needs no more of it. */
  clear(): void;
  channels(): Float32Array[];
}

/**
 * A store that grows up to `mostFrames`.
 *
 * @param expectedFrames frames to make room for at once; a good guess keeps the peak of memory low
 */
export function createSampleStore(
  channelCount: number,
  mostFrames: number,
  expectedFrames: number,
): SampleStore {
  const first = Math.max(1024, Math.min(mostFrames, Math.ceil(expectedFrames)));
  const buffers = Array.from({ length: channelCount }, () => new Float32Array(first));
  let length = 0;
  let overflowed = false;
  const grow = (needed: number): void => {
    const capacity = Math.min(mostFrames, Math.max(needed, 2 * buffers[0]!.length));
    buffers.forEach((buffer, c) => {
      const larger = new Float32Array(capacity);
      larger.set(buffer.subarray(0, length));
      buffers[c] = larger;
    });
  };
  return {
    get length() {
      return length;
    },
    get overflowed() {
      return overflowed;
    },
    append: (block) => {
      const offered = block[0]!.length;
      const taken = Math.min(offered, mostFrames - length);
      if (taken < offered) overflowed = true;
      if (length + taken > buffers[0]!.length) grow(length + taken);
      buffers.forEach((buffer, c) => {
        buffer.set(block[c]!.subarray(0, taken), length);
      });
      length += taken;
    },
    clear: () => {
      length = 0;
      overflowed = false;
    },
    channels: () => buffers.map((buffer) => trimmed(buffer, length)),
  };
}

// A view holds on to its whole buffer, so a copy is worth it where much of the buffer is unused.
function trimmed(buffer: Float32Array, length: number): Float32Array {
  return buffer.length - length > 0.1 * length
    ? buffer.slice(0, length)
    : buffer.subarray(0, length);
}
