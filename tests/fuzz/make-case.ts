import { createRandom, type Random } from "../../src/foundation/random.js";
import { buildWav, integerCodes } from "../recording/fixtures/wav-builder.js";
import type { SeedFile } from "./corpus.js";
import { mutateBytes } from "./mutate-bytes.js";
import { mutateText } from "./mutate-text.js";
import { TEXT_SEEDS, type TextKind } from "./text-seeds.js";

/** One hostile input. */
export interface FuzzCase {
  readonly kind: "sound" | TextKind;
  /** The seed and what was done to it. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

const TEXT_KINDS = Object.keys(TEXT_SEEDS) as TextKind[];

const COUNTS = [0, 1, 2, 3, 6, 64, 65, 255, 256, 32_767, 32_768, 65_535] as const;
const RATES = [0, 1, 8000, 44_100, 48_000, 384_000, 384_001, 2 ** 31, 2 ** 32 - 1] as const;
const SIZES = [0, 1, 16, 65_535, 0x7fffffff, 0x80000000, 0xfffffffe, 0xffffffff] as const;

/** A WAV whose header is made of the values that break readers. */
function hostileWav(random: Random): Uint8Array {
  const wild = <T>(usual: T, values: readonly T[]): T =>
    random.chance(0.35) ? random.pick(values) : usual;
  const channelCount = wild(1, COUNTS);
  const bits = wild(16, [0, 1, 8, 12, 24, 32, 33, 64, 128, 65_535]);
  const codes = Array.from({ length: random.pick([0, 1, 100, 8000]) }, () =>
    random.integer(-32_768, 32_767),
  );
  return buildWav({
    tag: wild(1, [0, 2, 3, 6, 7, 0x11, 0x55, 0xfffe, 0xffff]),
    bits,
    channelCount,
    sampleRateHz: wild(16_000, RATES),
    data: integerCodes(codes, 2),
    extensible: random.chance(0.3),
    blockBytes: wild(Math.ceil((channelCount * bits) / 8) % 65_536, COUNTS),
    riffSize: wild(2 * codes.length + 36, SIZES),
    dataSize: wild(2 * codes.length, SIZES),
    rf64: random.chance(0.1),
  });
}

/** The case of this number: the same seed and number always make the same bytes. */
export function makeCase(seed: number, number: number, seeds: readonly SeedFile[]): FuzzCase {
  const random = createRandom(seed).fork(`case ${number}`);
  if (random.chance(0.2)) {
    const kind = random.pick(TEXT_KINDS);
    const bytes = mutateText(random.pick(TEXT_SEEDS[kind]), random);
    return { kind, name: `a changed ${kind} file`, bytes };
  }
  if (random.chance(0.05)) return { kind: "sound", name: "WAV header", bytes: hostileWav(random) };
  const file = random.pick(seeds);
  const { bytes, changes } = mutateBytes(file.bytes, random, random.pick(seeds).bytes);
  return { kind: "sound", name: `${file.name}: ${changes.join(", ")}`, bytes };
}
