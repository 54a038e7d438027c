/** Counts the reads of a demuxer, so that one that goes round in circles on a damaged file is stopped. */
export interface ReadGuard {
  /** Tells that a packet came out: the demuxer gets somewhere. */
  progress(): void;
}

// A sound file of hours has some ten thousand clusters or fragments to look through before a packet comes.
const MOST_READS_WITHOUT_PACKET = 200_000;

/**
 * Sets a limit to the reads between two packets.
 *
 * mediabunny 1.61.0 looks for the next element of a damaged Matroska file in a loop that never ends once
 * eight bytes are left, and it reads from its own cache there, so that the bytes that it asks us for do
 * not tell. The method that every one of its reads passes is counted instead; past the limit it throws.
 *
 * @param source a source of mediabunny, changed in place
 */
export function guardReads(source: object): ReadGuard {
  let reads = 0;
  const watched = source as { _read?: (...range: readonly number[]) => unknown };
  const read = watched._read;
  if (read !== undefined) {
    watched._read = (...range) => {
      if (++reads > MOST_READS_WITHOUT_PACKET) throw new Error("the container goes in circles");
      return read.apply(source, range as number[]);
    };
  }
  return {
    progress: () => {
      reads = 0;
    },
  };
}
