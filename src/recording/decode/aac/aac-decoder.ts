import { BitReader } from "../bit-reader.js";
import type { AacConfig } from "./aac-config.js";
import { readChannel, readLayout } from "./channel-stream.js";
import type { ChannelFrame } from "./frame.js";
import { createChannelState, synthesise, type ChannelState } from "./filter-bank.js";
import { fillNoise, joinStereo, type NoiseSource } from "./stereo.js";
import { AacSyntaxError } from "./syntax-error.js";
import { applyTns } from "./tns.js";

export const AAC_FRAME_SAMPLES = 1024;

/** Decodes the frames of one AAC-LC stream in order. */
export interface AacDecoder {
  /**
   * Samples of one frame, shape [channelCount][1024], full scale ±1, valid until the next call. Throws
   * AacSyntaxError for a frame that breaks the rules; decoding may go on with the next one.
   */
  decode(frame: Uint8Array): Float32Array[];
  /** Whether spectral band replication was met in the frames: they hold only half the band. */
  readonly bandReplicationSeen: boolean;
}

// Channels in a single element, a pair, a coupling element, a low-frequency element; none in the others.
const channelsIn = [1, 2, 0, 1, 0, 0, 0, 0];
const DATA = 4;
const PROGRAM = 5;
const FILL = 6;
const END = 7;

/** A decoder of AAC-LC. Source for syntax and process: ISO/IEC 14496-3, subpart 4. */
export function createAacDecoder(config: AacConfig): AacDecoder {
  const states = Array.from({ length: config.channelCount }, createChannelState);
  const spectra = states.map(() => new Float64Array(1024));
  const out = states.map(() => new Float32Array(AAC_FRAME_SAMPLES));
  const noise: NoiseSource = { state: 1 };
  let bandReplicationSeen = false;

  const finish = (frame: ChannelFrame, state: ChannelState, out: Float32Array): void => {
    applyTns(frame);
    synthesise(frame.spectrum, frame.layout, state, out);
  };
  const single = (reader: BitReader, channel: number): void => {
    reader.skip(4);
    const frame = readChannel(reader, config.rateIndex, null, spectra[channel]!);
    fillNoise(frame, noise);
    finish(frame, states[channel]!, out[channel]!);
  };
  const pair = (reader: BitReader, channel: number): void => {
    const [left, right, middleSide] = readPair(reader, config.rateIndex, [
      spectra[channel]!,
      spectra[channel + 1]!,
    ]);
    fillNoise(left, noise);
    fillNoise(right, noise, left, middleSide);
    if (middleSide) joinStereo(left, right, middleSide);
    finish(left, states[channel]!, out[channel]!);
    finish(right, states[channel + 1]!, out[channel + 1]!);
  };
  const skipOther = (reader: BitReader, kind: number): void => {
    if (kind === DATA) skipData(reader);
    else if (kind === FILL) bandReplicationSeen = skipFill(reader) || bandReplicationSeen;
    else if (kind === PROGRAM) skipProgram(reader);
    else throw new AacSyntaxError("coupling channel");
  };
  const elements = (reader: BitReader): void => {
    let channel = 0;
    for (let kind = reader.read(3); kind !== END && !reader.overrun; kind = reader.read(3)) {
      const needed = channelsIn[kind]!;
      if (channel + needed > config.channelCount) throw new AacSyntaxError("too many channels");
      if (needed === 2) pair(reader, channel);
      else if (needed === 1) single(reader, channel);
      else skipOther(reader, kind);
      channel += needed;
    }
    if (reader.overrun) throw new AacSyntaxError("frame too short");
    if (channel === 0) throw new AacSyntaxError("frame without sound");
  };
  return {
    decode: (bytes) => {
      elements(new BitReader(bytes));
      return out;
    },
    get bandReplicationSeen() {
      return bandReplicationSeen;
    },
  };
}

function readPair(
  reader: BitReader,
  rateIndex: number,
  spectra: readonly [Float64Array, Float64Array],
): [ChannelFrame, ChannelFrame, Uint8Array | null] {
  reader.skip(4);
  const shared = reader.read(1) === 1 ? readLayout(reader, rateIndex) : null;
  let middleSide: Uint8Array | null = null;
  if (shared) {
    const mask = reader.read(2);
    middleSide = new Uint8Array(shared.groups.length * shared.bandCount).fill(mask === 2 ? 1 : 0);
    if (mask === 1) middleSide.forEach((_, i) => (middleSide![i] = reader.read(1)));
    if (mask === 3) throw new AacSyntaxError("reserved stereo mask");
  }
  const left = readChannel(reader, rateIndex, shared, spectra[0]);
  const right = readChannel(reader, rateIndex, shared, spectra[1]);
  return [left, right, middleSide];
}

function skipData(reader: BitReader): void {
  reader.skip(4);
  const aligned = reader.read(1) === 1;
  let count = reader.read(8);
  if (count === 255) count += reader.read(8);
  if (aligned) reader.alignToByte();
  reader.skip(8 * count);
}

// Returns whether the filling is spectral band replication.
function skipFill(reader: BitReader): boolean {
  let count = reader.read(4);
  if (count === 15) count += reader.read(8) - 1;
  const extension = count > 0 ? reader.peek(4) : 0;
  reader.skip(8 * count);
  return extension === 13 || extension === 14;
}

function skipProgram(reader: BitReader): void {
  reader.skip(4 + 2 + 4);
  const [front, side, back] = [reader.read(4), reader.read(4), reader.read(4)];
  const [lowFrequency, associated, coupling] = [reader.read(2), reader.read(3), reader.read(4)];
  if (reader.read(1) === 1) reader.skip(4);
  if (reader.read(1) === 1) reader.skip(4);
  if (reader.read(1) === 1) reader.skip(3);
  reader.skip(5 * (front + side + back + coupling) + 4 * (lowFrequency + associated));
  reader.alignToByte();
  reader.skip(8 * reader.read(8));
}
