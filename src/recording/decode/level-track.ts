/** The energy of a recording second by second. */
export interface LevelTrack {
  /** One value for each second begun, the sum of squares over all channels. */
  readonly energies: readonly number[];
  readonly frames: number;
  /** Largest |sample| so far. */
  readonly peak: number;
  /** Samples beyond twice full scale so far, over all channels. */
  readonly farBeyond: number;
  /** Whether a sample was not a finite number. */
  readonly broken: boolean;
  add(block: readonly Float32Array[]): void;
}

export function createLevelTrack(sampleRateHz: number): LevelTrack {
  const energies: number[] = [];
  let frames = 0;
  let peak = 0;
  let farBeyond = 0;
  let broken = false;
  const addSpan = (channel: Float32Array, from: number, to: number): number => {
    let sum = 0;
    let largest = peak;
    for (let i = from; i < to; i++) {
      const x = channel[i]!;
      sum += x * x;
      if (x > largest) largest = x;
      else if (-x > largest) largest = -x;
      if (x > 2 || x < -2) farBeyond++;
    }
    peak = largest;
    if (!Number.isFinite(sum)) broken = true;
    return sum;
  };
  return {
    energies,
    get frames() {
      return frames;
    },
    get peak() {
      return peak;
    },
    get farBeyond() {
      return farBeyond;
    },
    get broken() {
      return broken;
    },
    add: (block) => {
      const length = block[0]!.length;
      for (let at = 0; at < length;) {
        const second = Math.floor((frames + at) / sampleRateHz);
        const end = Math.min(length, Math.ceil((second + 1) * sampleRateHz) - frames);
        for (const channel of block) {
          energies[second] = (energies[second] ?? 0) + addSpan(channel, at, end);
        }
        at = end;
      }
      frames += length;
    },
  };
}
