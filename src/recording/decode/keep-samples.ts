import { WasherNoiseError } from "../../foundation/errors.js";
import type { DecodedAudio, Interval, RecordingProblem } from "../recording.js";
import type { DecodeLimits } from "./decode-options.js";
import type { ByteSource } from "./byte-source.js";
import { createDecimator, decimationFactor } from "./decimator.js";
import { createLevelTrack, type LevelTrack } from "./level-track.js";
import { clockTime, loudestStretch } from "./loudest-stretch.js";
import type { PcmBlock, PcmStream } from "./pcm-stream.js";
import { damaged, tooLarge } from "./refusal.js";
import { createSampleStore, type SampleStore } from "./sample-store.js";

const MOST_KEPT_CHANNELS = 2;
// A lossy codec may overshoot full scale by a few decibels; twice full scale is a broken stream.
const HIGHEST_LOSSY_PEAK = 2;
// Recorders that write floats leave some 700 dB of room, but no microphone delivers 60 dB beyond full scale.
const HIGHEST_LOSSLESS_PEAK = 1000;
// Where more samples than these lie there, the whole file is scaled otherwise, say to 16-bit codes.
const RARE_SHARE = 0.01;
// A header of a few bytes may stand before some seconds of silence.
const LITTLE_SOUND_SAMPLES = 1_000_000;

/** Runs a stream dry into memory: all of it, or its loudest stretch where it is too long to keep. */
export async function keepSamples(
  source: Pick<ByteSource, "name" | "sizeBytes">,
  stream: PcmStream,
  limits: DecodeLimits,
): Promise<DecodedAudio> {
  const { name } = source;
  checkSeconds(name, stream.claimedSeconds ?? 0, limits);
  const factor = decimationFactor(stream.sampleRateHz);
  const sampleRateHz = stream.sampleRateHz / factor;
  const keptChannels = Math.min(MOST_KEPT_CHANNELS, stream.channelCount);
  const keptSeconds = Math.min(
    limits.maxKeptSeconds,
    Math.floor(limits.maxKeptSamples / keptChannels / sampleRateHz),
  );
  const expected = stream.claimedSeconds ?? stream.roughSeconds ?? 60;
  const store = createSampleStore(
    keptChannels,
    Math.floor(keptSeconds * sampleRateHz),
    expected * sampleRateHz + 4096,
  );
  const levels = createLevelTrack(stream.sampleRateHz);
  const known = expected > 1.01 * keptSeconds;
  await firstPass({ source, stream, limits, levels }, store, factor, known);
  checkLevels(name, stream, levels);
  const fileSeconds = levels.frames / stream.sampleRateHz;
  checkWhatIsLeft(name, stream, fileSeconds);
  const problems: RecordingProblem[] = [...stream.problems];
  if (store.overflowed || (known && fileSeconds > keptSeconds)) {
    const stretch = loudestStretch(levels.energies, keptSeconds);
    await keepStretch(stream, limits, store, factor, stretch);
    problems.push(longProblem(fileSeconds, stretch));
  } else if (known) {
    await keepStretch(stream, limits, store, factor, { startSeconds: 0, endSeconds: fileSeconds });
  }
  return {
    channels: store.channels(),
    sampleRateHz,
    channelCount: stream.channelCount,
    codec: stream.codec,
    fileSeconds,
    problems: [...problems, ...lengthProblem(stream, fileSeconds)],
  };
}

interface Pass {
  readonly source: Pick<ByteSource, "name" | "sizeBytes">;
  readonly stream: PcmStream;
  readonly limits: DecodeLimits;
  readonly levels: LevelTrack;
}

// Measures the level of every second; keeps the samples as long as there is hope to keep them all.
async function firstPass(
  pass: Pass,
  store: SampleStore,
  factor: number,
  knownTooLong: boolean,
): Promise<void> {
  const feed = feeder(store, factor);
  for await (const block of pass.stream.blocks()) {
    checkCancelled(pass.limits);
    pass.levels.add(block);
    if (pass.levels.broken) break;
    checkSeconds(pass.source.name, pass.levels.frames / pass.stream.sampleRateHz, pass.limits);
    checkDecoded(pass);
    if (!knownTooLong && !store.overflowed) feed.add(block);
  }
  if (!knownTooLong) feed.end();
}

async function keepStretch(
  stream: PcmStream,
  limits: DecodeLimits,
  store: SampleStore,
  factor: number,
  stretch: Interval,
): Promise<void> {
  store.clear();
  const feed = feeder(store, factor);
  const from = Math.round(stretch.startSeconds * stream.sampleRateHz);
  const to = Math.round(stretch.endSeconds * stream.sampleRateHz);
  let at = 0;
  for await (const block of stream.blocks()) {
    checkCancelled(limits);
    const length = block[0]!.length;
    const first = Math.max(0, from - at);
    const last = Math.min(length, to - at);
    if (first < last) feed.add(block.map((channel) => channel.subarray(first, last)));
    at += length;
    if (at >= to) break;
  }
  feed.end();
}

interface Feeder {
  add(block: PcmBlock): void;
  end(): void;
}

function feeder(store: SampleStore, factor: number): Feeder {
  const decimators = Array.from({ length: MOST_KEPT_CHANNELS }, () => createDecimator(factor));
  const kept = (block: PcmBlock): PcmBlock => block.slice(0, MOST_KEPT_CHANNELS);
  return {
    add: (block) => {
      store.append(kept(block).map((channel, c) => decimators[c]!.push(channel)));
    },
    end: () => {
      if (factor > 1) store.append(decimators.map((decimator) => decimator.flush()));
    },
  };
}

function checkCancelled(limits: DecodeLimits): void {
  if (!limits.signal?.aborted) return;
  throw new WasherNoiseError("cancelled", "Reading the recording was stopped on request.");
}

function checkSeconds(name: string, seconds: number, limits: DecodeLimits): void {
  if (seconds <= limits.maxSeconds) return;
  const what = `it lasts more than the ${clockTime(limits.maxSeconds)} minutes (maxSeconds, --max-minutes) that are accepted`;
  throw tooLarge(name, what, { maxSeconds: limits.maxSeconds, seconds });
}

function checkDecoded({ source, stream, limits, levels }: Pass): void {
  const { maxDecodedSamples, maxSamplesPerByte } = limits;
  const samples = levels.frames * stream.channelCount;
  if (samples > maxDecodedSamples) {
    const what = `it holds more than the ${maxDecodedSamples / 1e6} million samples (maxDecodedSamples) that are accepted`;
    throw tooLarge(source.name, what, { maxDecodedSamples, samples });
  }
  if (samples > maxSamplesPerByte * source.sizeBytes + LITTLE_SOUND_SAMPLES) {
    const what = `it unfolds to more than ${maxSamplesPerByte} samples a byte (maxSamplesPerByte)`;
    throw damaged(source.name, what, { maxSamplesPerByte, samples });
  }
}

function checkLevels(name: string, stream: PcmStream, levels: LevelTrack): void {
  if (levels.broken) throw damaged(name, "the recording holds values that are no numbers");
  if (stream.lossy && levels.peak > HIGHEST_LOSSY_PEAK) {
    throw damaged(name, "the decoded sound goes far beyond full scale", { peak: levels.peak });
  }
  const rare = levels.farBeyond < RARE_SHARE * levels.frames * stream.channelCount;
  if (levels.peak > HIGHEST_LOSSLESS_PEAK && rare) {
    throw damaged(name, "single samples jump far beyond full scale", { peak: levels.peak });
  }
  if (levels.frames === 0) throw damaged(name, "no sound could be decoded from it");
}

function longProblem(fileSeconds: number, stretch: Interval): RecordingProblem {
  const from = clockTime(stretch.startSeconds);
  const to = clockTime(stretch.endSeconds);
  return {
    code: "long",
    severity: "note",
    message: `The recording lasts ${clockTime(fileSeconds)} minutes; its loudest stretch, ${from} to ${to}, is listened to. Send one minute of the noise for a quicker answer.`,
  };
}

/** What is left of a file that was cut off must last at least this long to be listened to at all. */
const LEAST_LEFT_SECONDS = 0.3;

function checkWhatIsLeft(name: string, { claimedSeconds }: PcmStream, fileSeconds: number): void {
  if (claimedSeconds === null || claimedSeconds < 2 * LEAST_LEFT_SECONDS) return;
  if (fileSeconds >= LEAST_LEFT_SECONDS) return;
  const what = `it was cut off on the way: of ${claimedSeconds.toFixed(1)} s only ${fileSeconds.toFixed(1)} s are there`;
  throw damaged(name, what, { claimedSeconds, fileSeconds });
}

// Half a second and 2 % are more than padding and rounded durations explain.
function lengthProblem({ claimedSeconds }: PcmStream, fileSeconds: number): RecordingProblem[] {
  if (claimedSeconds === null) return [];
  const slack = Math.max(0.5, 0.02 * claimedSeconds);
  const lengths = `The file claims ${claimedSeconds.toFixed(1)} s but`;
  const said = (code: "truncated" | "damaged", what: string): RecordingProblem[] => [
    { code, severity: "limits", message: `${lengths} ${what}. Copy it from the phone again.` },
  ];
  if (claimedSeconds - fileSeconds >= slack) {
    const read = `only ${fileSeconds.toFixed(1)} s could be read`;
    return said("truncated", `${read}: it was cut off or damaged on the way`);
  }
  if (fileSeconds - claimedSeconds >= 2 * slack) {
    return said("damaged", `${fileSeconds.toFixed(1)} s were read: its header or index is wrong`);
  }
  return [];
}
