import { imdct } from "../imdct.js";
import { bitsNeeded } from "./codebook.js";
import { applyFloor, readFloorHeights } from "./floor.js";
import { LittleBitReader } from "./little-bit-reader.js";
import { readResidue } from "./residue.js";
import type { VorbisMapping, VorbisSetup } from "./setup.js";
import { VorbisSyntaxError } from "./syntax-error.js";

/** Decodes the packets of one Vorbis stream in order. */
export interface VorbisDecoder {
  /**
   * Samples that a packet completes, shape [channelCount][n]; none for the first. Valid until the next
   * call. Throws VorbisSyntaxError.
   */
  decode(packet: Uint8Array): Float32Array[];
}

const slopes = new Map<number, Float64Array>();

// Rising half of the Vorbis power-complementary window. Source: Vorbis I specification, section 4.3.1.
function slope(length: number): Float64Array {
  const known = slopes.get(length);
  if (known) return known;
  const rise = Float64Array.from({ length }, (_, i) =>
    Math.sin((Math.PI / 2) * Math.sin((Math.PI / 2 / length) * (i + 0.5)) ** 2),
  );
  slopes.set(length, rise);
  return rise;
}

interface Shape {
  readonly size: number;
  /** Length of the overlap with the block before and with the one after. */
  readonly rise: number;
  readonly fall: number;
}

/** A decoder for one stream. Source: Vorbis I specification, section 4.3. */
export function createVorbisDecoder(setup: VorbisSetup): VorbisDecoder {
  const { channelCount, blockSizes } = setup.identity;
  const modeBits = bitsNeeded(setup.modes.length - 1);
  const channels = Array.from({ length: channelCount }, () => createChannel(blockSizes[1]));
  let started = false;

  const readShape = (reader: LittleBitReader): { shape: Shape; mapping: VorbisMapping } => {
    if (reader.read(1) !== 0) throw new VorbisSyntaxError("not a sound packet");
    const mode = setup.modes[reader.read(modeBits)];
    if (!mode) throw new VorbisSyntaxError("unknown mode");
    const [short, long] = blockSizes;
    const size = mode.long ? long : short;
    const longBefore = mode.long && reader.read(1) === 1;
    const longAfter = mode.long && reader.read(1) === 1;
    const shape = {
      size,
      rise: (longBefore ? long : short) / 2,
      fall: (longAfter ? long : short) / 2,
    };
    return { shape, mapping: setup.mappings[mode.mapping]! };
  };

  return {
    decode: (packet) => {
      const reader = new LittleBitReader(packet);
      const { shape, mapping } = readShape(reader);
      const lines = channels.map((channel) => channel.lines.subarray(0, shape.size / 2).fill(0));
      readSpectra(reader, setup, mapping, lines);
      const done = channels.map((channel, c) => {
        const block = channel.block.subarray(0, shape.size);
        windowed(lines[c]!, block, shape);
        return overlap(channel, block);
      });
      if (started) return done;
      started = true;
      return done.map((samples) => samples.subarray(0, 0));
    },
  };
}

/** Work space of one channel, and what it carries from block to block. */
interface Channel {
  readonly lines: Float64Array;
  readonly block: Float64Array;
  /** The second half of the block before, windowed. */
  readonly tail: Float64Array;
  tailLength: number;
  readonly out: Float32Array;
}

const createChannel = (longest: number): Channel => ({
  lines: new Float64Array(longest / 2),
  block: new Float64Array(longest),
  tail: new Float64Array(longest / 2),
  tailLength: 0,
  out: new Float32Array(longest),
});

function readSpectra(
  reader: LittleBitReader,
  setup: VorbisSetup,
  mapping: VorbisMapping,
  spectra: readonly Float64Array[],
): void {
  const { books, floors, residues } = setup;
  const floorOf = (channel: number): (typeof floors)[number] =>
    floors[mapping.submaps[mapping.submapOf[channel]!]!.floor]!;
  const heights = mapping.submapOf.map((_, c) => readFloorHeights(reader, floorOf(c), books));
  const silent = heights.map((height) => height === null);
  for (const { magnitude, angle } of mapping.couplings) {
    if (!silent[magnitude] || !silent[angle]) silent[magnitude] = silent[angle] = false;
  }
  mapping.submaps.forEach((submap, s) => {
    const inside = (_: unknown, c: number): boolean => mapping.submapOf[c] === s;
    const channels = spectra.filter(inside);
    if (channels.length === 0) return;
    readResidue(reader, residues[submap.residue]!, books, channels, silent.filter(inside));
  });
  for (const { magnitude, angle } of mapping.couplings) {
    uncouple(spectra[magnitude]!, spectra[angle]!);
  }
  spectra.forEach((lines, c) => {
    const height = heights[c];
    if (height) applyFloor(floorOf(c), height, lines);
    else lines.fill(0);
  });
}

// Square polar coupling. Source: Vorbis I specification, section 4.3.5.
function uncouple(magnitude: Float64Array, angle: Float64Array): void {
  for (let k = 0; k < magnitude.length; k++) {
    const m = magnitude[k]!;
    const a = angle[k]!;
    const towards = m > 0 ? a : -a;
    if (a > 0) angle[k] = m - towards;
    else {
      angle[k] = m;
      magnitude[k] = m + towards;
    }
  }
}

function windowed(lines: Float64Array, block: Float64Array, shape: Shape): void {
  const { size, rise, fall } = shape;
  imdct(size).inverse(lines, block);
  const up = slope(rise);
  const down = slope(fall);
  const riseFrom = size / 4 - rise / 2;
  const fallFrom = (3 * size) / 4 - fall / 2;
  block.fill(0, 0, riseFrom);
  for (let i = 0; i < rise; i++) block[riseFrom + i]! *= up[i]!;
  for (let i = 0; i < fall; i++) block[fallFrom + i]! *= down[fall - 1 - i]!;
  block.fill(0, fallFrom + fall);
}

// From the middle of the block before to the middle of this one.
function overlap(channel: Channel, block: Float64Array): Float32Array {
  const { tail, tailLength, out } = channel;
  const half = block.length / 2;
  const length = (tailLength + half) / 2;
  // Where the longer block starts first, the other one is still silent.
  const shift = half - length;
  for (let t = 0; t < length; t++) {
    const before = t < tailLength ? tail[t]! : 0;
    out[t] = t + shift >= 0 ? before + block[t + shift]! : before;
  }
  tail.set(block.subarray(half));
  channel.tailLength = half;
  return out.subarray(0, length);
}
