import { median } from "../../foundation/statistics.js";
import { frameLength } from "./frames.js";
import { fftPlan } from "../../signal/fft-plan.js";
import { windowOf } from "../../signal/window.js";
import { findClipping } from "./clipping.js";
import { usableBand } from "./usable-band.js";
import type { Hertz } from "../../foundation/units.js";

/** What became of the channels. */
export interface ChannelChoice {
  /** Shape [n]; one channel, or the mean of those that agree. */
  readonly samples: Float32Array;
  /** Indices of the channels in `samples`. */
  readonly used: readonly number[];
  /** `dead`: some channels hold nothing; `disagree`: they carry different sound or are inverted. */
  readonly finding: "agree" | "dead" | "disagree";
}

const AGREEMENT = 0.6;
const BANDS_HZ = [125, 250, 500, 1000, 2000, 4000, 8000] as const;
const BLOCKS = 60;

function meanSquare(samples: Float32Array): number {
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += samples[i]! * samples[i]!;
  return sum / Math.max(1, samples.length);
}

/**
 * In-phase coherence of two channels: Re S_ab / sqrt(S_aa S_bb), per octave of 125-8000 Hz.
 *
 * 1 for equal sound, 0 for unrelated, -1 for inverted. Octaves 50 dB under the strongest are left out.
 */
export function inPhaseCoherence(a: Float32Array, b: Float32Array, sampleRateHz: Hertz): number[] {
  const length = frameLength(0.04, sampleRateHz);
  const hop = Math.max(length, Math.floor(a.length / BLOCKS));
  const sums = BANDS_HZ.slice(1).map(() => ({ cross: 0, left: 0, right: 0 }));
  const window = windowOf("hann", length);
  const block = new Float64Array(length);
  const left = new Float64Array(2 * length);
  const right = new Float64Array(2 * length);
  const plan = fftPlan(length);
  const binHz = sampleRateHz / length;
  for (let start = 0; start + length <= a.length; start += hop) {
    for (let i = 0; i < length; i++) block[i] = a[start + i]! * window[i]!;
    plan.forwardReal(block, left);
    for (let i = 0; i < length; i++) block[i] = b[start + i]! * window[i]!;
    plan.forwardReal(block, right);
    sums.forEach((sum, band) => {
      const to = Math.min(length / 2, Math.floor(BANDS_HZ[band + 1]! / binHz));
      for (let k = Math.ceil(BANDS_HZ[band]! / binHz); k <= to; k++) {
        const [ar, ai] = [left[2 * k]!, left[2 * k + 1]!];
        const [br, bi] = [right[2 * k]!, right[2 * k + 1]!];
        sum.cross += ar * br + ai * bi;
        sum.left += ar * ar + ai * ai;
        sum.right += br * br + bi * bi;
      }
    });
  }
  const strongest = Math.max(...sums.map((sum) => Math.sqrt(sum.left * sum.right)));
  return sums
    .filter((sum) => Math.sqrt(sum.left * sum.right) > 1e-5 * strongest)
    .map((sum) => sum.cross / Math.sqrt(sum.left * sum.right));
}

// The strongest line of the loudness of the treble at 5-40 Hz over the middle of that range: what the
// drum's modulation has to be found in.
function modulationClarity(samples: Float32Array, sampleRateHz: Hertz): number {
  const width = Math.max(1, Math.round(0.005 * sampleRateHz));
  const count = Math.floor(samples.length / width);
  const size = 2 ** Math.floor(Math.log2(Math.max(64, Math.min(count, 4096))));
  const envelope = new Float64Array(size);
  for (let b = 0; b < Math.min(size, count); b++) {
    let sum = 0;
    for (let i = Math.max(1, b * width); i < (b + 1) * width; i++) {
      sum += (samples[i]! - samples[i - 1]!) ** 2;
    }
    envelope[b] = Math.sqrt(sum);
  }
  const average = envelope.reduce((sum, value) => sum + value, 0) / size;
  const bins = new Float64Array(2 * size);
  fftPlan(size).forwardReal(
    envelope.map((value) => value - average),
    bins,
  );
  const low = Math.round(5 * 0.005 * size);
  const high = Math.round(40 * 0.005 * size);
  const powers = Float64Array.from({ length: high - low }, (_, i) =>
    Math.hypot(bins[2 * (low + i)]!, bins[2 * (low + i) + 1]!),
  ).sort();
  return powers[powers.length - 1]! / (powers[powers.length >> 1]! || 1);
}

// Octaves of usable band, less clipping, plus a little for clear modulation.
function merit(samples: Float32Array, sampleRateHz: Hertz): number {
  const [low, high] = usableBand(samples, sampleRateHz);
  const clipped = findClipping(samples, sampleRateHz).share;
  return (
    Math.log2(high / low) -
    2 * Math.min(1, clipped * 100) +
    0.5 * Math.log2(modulationClarity(samples, sampleRateHz))
  );
}

/**
 * One channel out of several.
 *
 * Channels 40 dB under the loudest count as dead. The others are averaged when they agree with the
 * strongest: in-phase coherence of at least 0.6 in every octave. If not, the one with the wider band, less
 * clipping and clearer modulation is taken, so that inverted or unrelated channels cancel nothing.
 *
 * @param channels shape [channelCount][n], finite, of one length
 */
export function chooseChannel(
  channels: readonly Float32Array[],
  sampleRateHz: Hertz,
): ChannelChoice {
  if (channels.length === 1) return { samples: channels[0]!, used: [0], finding: "agree" };
  const powers = channels.map(meanSquare);
  const loudest = Math.max(...powers);
  const live = [...channels.keys()].filter((c) => powers[c]! > 1e-4 * loudest);
  const finding = live.length < channels.length && loudest > 0 ? "dead" : "agree";
  const first = powers.indexOf(loudest);
  if (live.length < 2) return { samples: channels[first]!, used: [first], finding };
  const coherences = (c: number): number[] =>
    inPhaseCoherence(channels[first]!, channels[c]!, sampleRateHz);
  const agree = live.every(
    (c) => c === first || coherences(c).every((value) => value >= AGREEMENT),
  );
  if (agree) {
    const samples = new Float32Array(channels[first]!.length);
    for (const c of live) {
      const channel = channels[c]!;
      for (let i = 0; i < samples.length; i++) samples[i]! += channel[i]! / live.length;
    }
    return { samples, used: live, finding };
  }
  // Two microphones a hand apart hear the treble of one room differently: that is stereo, not a fault.
  const foreign = live.some((c) => c !== first && median(coherences(c)) < 0.1);
  const merits = live.map((c) => merit(channels[c]!, sampleRateHz));
  const best = live[merits.indexOf(Math.max(...merits))]!;
  return { samples: channels[best]!, used: [best], finding: foreign ? "disagree" : "agree" };
}
