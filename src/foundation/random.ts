/** A repeatable source of random numbers: same seed, same numbers, on every machine. */
export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Whole number in [low, high], both included. */
  integer(low: number, high: number): number;
  /** Normal with mean 0 and standard deviation 1. */
  normal(): number;
  /** One of the items, all equally likely. */
  pick<T>(items: readonly T[]): T;
  /** True with probability p. */
  chance(p: number): boolean;
  /** An independent generator, named so that adding one stream does not shift another. */
  fork(name: string): Random;
}

// FNV-1a, so that a stream's name becomes a seed.
function hashText(text: string, start: number): number {
  let hash = (start ^ 0x811c9dc5) >>> 0;
  for (let i = 0; i < text.length; i++) {
    hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193) >>> 0;
  }
  return hash;
}

// splitmix32 seeds the four words of xoshiro128**, as its authors advise.
function seedWords(seed: number): Uint32Array {
  const words = new Uint32Array(4);
  let state = seed >>> 0;
  for (let i = 0; i < 4; i++) {
    state = (state + 0x9e3779b9) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    words[i] = (z ^ (z >>> 15)) >>> 0;
  }
  return words;
}

function nextWord(s: Uint32Array): number {
  const product = Math.imul(s[1]!, 5);
  const result = Math.imul((product << 7) | (product >>> 25), 9) >>> 0;
  const shifted = s[1]! << 9;
  s[2]! ^= s[0]!;
  s[3]! ^= s[1]!;
  s[1]! ^= s[2]!;
  s[0]! ^= s[3]!;
  s[2]! ^= shifted;
  s[3] = (s[3]! << 11) | (s[3]! >>> 21);
  return result;
}

/**
 * Makes a generator from a whole-number seed.
 *
 * Method: xoshiro128** (Blackman and Vigna, 2018), seeded through splitmix32; normals by the polar
 * method of Marsaglia. Not for secrets.
 */
export function createRandom(seed: number): Random {
  const state = seedWords(seed);
  let spareNormal: number | null = null;
  const uniform = (): number => nextWord(state) / 4294967296;
  const normal = (): number => {
    if (spareNormal !== null) {
      const kept = spareNormal;
      spareNormal = null;
      return kept;
    }
    let u: number;
    let v: number;
    let s: number;
    do {
      u = 2 * uniform() - 1;
      v = 2 * uniform() - 1;
      s = u * u + v * v;
    } while (s >= 1 || s === 0);
    const scale = Math.sqrt((-2 * Math.log(s)) / s);
    spareNormal = v * scale;
    return u * scale;
  };
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    integer: (low, high) => low + Math.floor(uniform() * (high - low + 1)),
    normal,
    pick: (items) => items[Math.floor(uniform() * items.length)]!,
    chance: (p) => uniform() < p,
    fork: (name) => createRandom(hashText(name, seed)),
  };
}
