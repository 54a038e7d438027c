/** The name `trun` as a number. */
const TRUN = 0x7472756e;
const FIRST_LETTER = 0x74;
/** Bytes from a box's name to the end of its count of samples (ISO/IEC 14496-12, 8.8.8). */
const NAME_TO_COUNT_END = 12;
const MOST_SAMPLES = 10_000_000;

/**
 * Refuses pieces of an mp4 whose fragments claim more packets than the file has bytes. mediabunny 1.61.0
 * makes an object of each packet before it looks whether there is any, and fills the memory.
 *
 * @param read reads from a place as many bytes as asked for, or fewer at the end
 */
export function guardFragments(
  read: (start: number, length: number) => Promise<Uint8Array>,
  sizeBytes: number,
): (start: number, length: number) => Promise<Uint8Array> {
  const most = Math.min(sizeBytes, MOST_SAMPLES);
  return async (start, length) => {
    // A little more is looked at, so that a box across the end of a piece is seen whole.
    const bytes = await read(start, length + NAME_TO_COUNT_END);
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const end = bytes.length - NAME_TO_COUNT_END;
    let at = bytes.indexOf(FIRST_LETTER);
    for (; at >= 0 && at <= end; at = bytes.indexOf(FIRST_LETTER, at + 1)) {
      if (view.getUint32(at) !== TRUN) continue;
      if (view.getUint32(at + 8) > most) throw new Error("a fragment claims too many packets");
    }
    return bytes.subarray(0, Math.min(length, bytes.length));
  };
}
