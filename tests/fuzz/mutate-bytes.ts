import type { Random } from "../../src/foundation/random.js";
import { piecesOf, type Piece } from "./boundaries.js";
import { repairSums } from "./repair.js";

const MOST_BYTES = 400_000;
const TELLING_BYTES = [0x00, 0x01, 0x7f, 0x80, 0xfe, 0xff] as const;
const TELLING_WORDS = [
  0, 1, 2, 7, 8, 0xff, 0x100, 0xffff, 0x10000, 0x7fffffff, 0x80000000, 0xfffffff0, 0xffffffff,
] as const;

const join = (...parts: readonly Uint8Array[]): Uint8Array => {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
};

/** A place in the file; two out of three lie in the first two kilobytes, where the headers are. */
function placeIn(bytes: Uint8Array, random: Random): number {
  const reach = random.chance(0.67) ? Math.min(2048, bytes.length) : bytes.length;
  return random.integer(0, Math.max(0, reach - 1));
}

const anyBytes = (length: number, random: Random): Uint8Array =>
  Uint8Array.from({ length }, () => random.integer(0, 255));

const boundary = (bytes: Uint8Array, random: Random): number => {
  const pieces = piecesOf(bytes);
  if (pieces.length === 0) return placeIn(bytes, random);
  const { start, end } = random.pick(pieces);
  return Math.max(0, Math.min(bytes.length, random.pick([start, end]) + random.integer(-1, 9)));
};

type Mutation = (bytes: Uint8Array, random: Random, other: Uint8Array) => Uint8Array;

const withPiece =
  (change: (bytes: Uint8Array, piece: Piece, random: Random) => Uint8Array): Mutation =>
  (bytes, random) => {
    const pieces = piecesOf(bytes);
    return pieces.length === 0 ? bytes : change(bytes, random.pick(pieces), random);
  };

const mutations: Readonly<Record<string, Mutation>> = {
  truncate: (bytes, random) =>
    bytes.subarray(0, random.chance(0.7) ? boundary(bytes, random) : placeIn(bytes, random)),
  "flip bits": (bytes, random) => {
    for (let i = random.integer(1, 12); i > 0; i--) {
      bytes[placeIn(bytes, random)]! ^= 1 << random.integer(0, 7);
    }
    return bytes;
  },
  "telling bytes": (bytes, random) => {
    for (let i = random.integer(1, 4); i > 0; i--) {
      bytes[placeIn(bytes, random)] = random.pick(TELLING_BYTES);
    }
    return bytes;
  },
  "telling word": (bytes, random) => {
    const at = placeIn(bytes, random);
    if (at + 4 <= bytes.length) {
      const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
      view.setUint32(at, random.pick(TELLING_WORDS), random.chance(0.5));
    }
    return bytes;
  },
  "piece size": withPiece((bytes, { sizeAt, sizeBytes }, random) => {
    for (let i = 0; i < sizeBytes; i++) {
      bytes[sizeAt + i] = random.chance(0.5) ? random.pick(TELLING_BYTES) : random.integer(0, 255);
    }
    return bytes;
  }),
  "drop piece": withPiece((bytes, { start, end }) =>
    join(bytes.subarray(0, start), bytes.subarray(end)),
  ),
  "double piece": withPiece((bytes, { start, end }, random) => {
    const piece = bytes.subarray(start, end);
    const times = piece.length > 4096 ? 1 : random.pick([1, 2, 60]);
    const copies = Array.from({ length: times }, () => piece);
    return join(bytes.subarray(0, end), ...copies, bytes.subarray(end));
  }),
  "swap pieces": (bytes, random) => {
    const pieces = piecesOf(bytes);
    if (pieces.length < 2) return bytes;
    const chosen = [random.pick(pieces), random.pick(pieces)];
    const [a, b] = chosen.sort((one, two) => one.start - two.start) as [Piece, Piece];
    if (a.end > b.start) return bytes;
    return join(
      bytes.subarray(0, a.start),
      bytes.subarray(b.start, b.end),
      bytes.subarray(a.end, b.start),
      bytes.subarray(a.start, a.end),
      bytes.subarray(b.end),
    );
  },
  "splice other format": (bytes, random, other) =>
    join(bytes.subarray(0, boundary(bytes, random)), other.subarray(boundary(other, random))),
  "other format inside": (bytes, random, other) => {
    const at = boundary(bytes, random);
    return join(bytes.subarray(0, at), other, bytes.subarray(at));
  },
  "other header": (bytes, random, other) => {
    const length = random.pick([4, 8, 12, 16, 44, 64]);
    return join(other.subarray(0, length), bytes.subarray(length));
  },
  "insert bytes": (bytes, random) => {
    const at = random.chance(0.5) ? boundary(bytes, random) : placeIn(bytes, random);
    const added = anyBytes(random.pick([1, 2, 3, 8, 100, 5000]), random);
    return join(bytes.subarray(0, at), added, bytes.subarray(at));
  },
  "overwrite run": (bytes, random) => {
    const at = placeIn(bytes, random);
    const length = random.pick([4, 16, 200, 4000]);
    const run = random.chance(0.5)
      ? anyBytes(length, random)
      : new Uint8Array(length).fill(random.pick(TELLING_BYTES));
    bytes.set(run.subarray(0, Math.max(0, bytes.length - at)), at);
    return bytes;
  },
};

const names = Object.keys(mutations);

/** One to four changes to a copy of the file; check sums are mended three times out of four. */
export function mutateBytes(
  seed: Uint8Array,
  random: Random,
  other: Uint8Array,
): { bytes: Uint8Array; changes: string[] } {
  let bytes: Uint8Array = seed.slice();
  const changes: string[] = [];
  for (let i = random.pick([1, 1, 1, 2, 2, 3, 4]); i > 0; i--) {
    const name = random.pick(names);
    changes.push(name);
    bytes = mutations[name]!(bytes.slice(0, MOST_BYTES), random, other);
  }
  bytes = bytes.slice(0, MOST_BYTES);
  if (random.chance(0.75)) repairSums(bytes);
  return { bytes, changes };
}
