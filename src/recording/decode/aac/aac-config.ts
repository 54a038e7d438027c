import type { Hertz } from "../../../foundation/units.js";
import { BitReader } from "../bit-reader.js";
import { unsupported } from "../refusal.js";
import { AAC_BANDS } from "./bands.data.js";

/** What must be known before the first frame of AAC. */
export interface AacConfig {
  /** Row of `AAC_BANDS` that holds this rate's bands. */
  readonly rateIndex: number;
  readonly sampleRateHz: Hertz;
  readonly channelCount: number;
  /** Spectral band replication is announced: the frames hold only the lower half of the band. */
  readonly highEfficiency: boolean;
}

const LOW_COMPLEXITY = 2;
const objectNames: Readonly<Record<number, string>> = {
  1: "AAC Main",
  3: "AAC SSR",
  4: "AAC-LTP",
  23: "AAC-LD",
  36: "ALS",
  39: "AAC-ELD",
  42: "xHE-AAC (USAC)",
};
const channelCounts = [0, 1, 2, 3, 4, 5, 6, 8];

/**
 * Reads an AudioSpecificConfig as found in mp4 and Matroska.
 *
 * Throws `format-unsupported` for any object type but AAC-LC and its high-efficiency extensions.
 * Source: ISO/IEC 14496-3, 1.6.2.1.
 */
export function readAudioSpecificConfig(name: string, bytes: Uint8Array): AacConfig {
  const reader = new BitReader(bytes);
  let objectType = readObjectType(reader);
  const rate = readRate(reader);
  const channelConfiguration = reader.read(4);
  let highEfficiency = false;
  if (objectType === 5 || objectType === 29) {
    highEfficiency = true;
    readRate(reader);
    objectType = readObjectType(reader);
  }
  if (objectType !== LOW_COMPLEXITY) {
    throw unsupported(name, objectNames[objectType] ?? `AAC of object type ${objectType}`);
  }
  const shortFrames = reader.read(1) === 1;
  if (reader.read(1) === 1) reader.skip(14);
  reader.skip(1);
  if (shortFrames) throw unsupported(name, "AAC with frames of 960 samples");
  if (!highEfficiency) highEfficiency = announcesExtension(reader);
  return aacConfig(name, rate, channelConfiguration, highEfficiency);
}

/** One ADTS frame: its configuration and where its content begins. Source: ISO/IEC 14496-3, 1.A.2.2. */
export function readAdtsHeader(
  name: string,
  frame: Uint8Array,
): { config: AacConfig; headerBytes: number } {
  const reader = new BitReader(frame);
  reader.skip(15);
  const withoutChecksum = reader.read(1) === 1;
  const objectType = reader.read(2) + 1;
  const rateIndex = reader.read(4);
  reader.skip(1);
  const channelConfiguration = reader.read(3);
  if (objectType !== LOW_COMPLEXITY) {
    throw unsupported(name, objectNames[objectType] ?? `AAC of object type ${objectType}`);
  }
  const rate = { index: rateIndex, hz: AAC_BANDS[rateIndex]?.sampleRateHz ?? 0 };
  return {
    config: aacConfig(name, rate, channelConfiguration, false),
    headerBytes: withoutChecksum ? 7 : 9,
  };
}

interface Rate {
  readonly index: number;
  readonly hz: Hertz;
}

function aacConfig(
  name: string,
  rate: Rate,
  channelConfiguration: number,
  highEfficiency: boolean,
): AacConfig {
  const channelCount = channelCounts[channelConfiguration] ?? 0;
  if (channelCount === 0 || rate.hz === 0) throw unsupported(name, "AAC of an unusual layout");
  return { rateIndex: rate.index, sampleRateHz: rate.hz, channelCount, highEfficiency };
}

function readObjectType(reader: BitReader): number {
  const short = reader.read(5);
  return short === 31 ? 32 + reader.read(6) : short;
}

function readRate(reader: BitReader): Rate {
  const index = reader.read(4);
  if (index !== 15) return { index, hz: AAC_BANDS[index]?.sampleRateHz ?? 0 };
  const hz = reader.read(24);
  return { index: nearestRateIndex(hz), hz };
}

// A rate written out in full uses the bands of the standard rate nearest on a log scale.
function nearestRateIndex(hz: Hertz): number {
  let best = 0;
  AAC_BANDS.forEach((row, i) => {
    const distance = Math.abs(Math.log(row.sampleRateHz / hz));
    if (distance < Math.abs(Math.log(AAC_BANDS[best]!.sampleRateHz / hz))) best = i;
  });
  return best;
}

// The extension that older decoders skip: sync word 0x2B7, object type 5, then the flag.
function announcesExtension(reader: BitReader): boolean {
  if (reader.bitsLeft < 17 || reader.read(11) !== 0x2b7) return false;
  return readObjectType(reader) === 5 && reader.read(1) === 1;
}
