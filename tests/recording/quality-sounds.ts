import { readFileSync } from "node:fs";
import { createRandom } from "../../src/foundation/random.js";
import { assessRecording } from "../../src/recording/assess.js";
import type { Recording } from "../../src/recording/recording.js";

/** A sound as a function of the sample index. */
export function sound(seconds: number, rate: number, at: (i: number) => number): Float32Array {
  const out = new Float32Array(Math.round(seconds * rate));
  for (let i = 0; i < out.length; i++) out[i] = at(i);
  return out;
}

export const assess = (
  channels: Float32Array | readonly Float32Array[],
  sampleRateHz: number,
  codec = "wav, PCM 16 bit",
): Recording => {
  const list = channels instanceof Float32Array ? [channels] : channels;
  return assessRecording({
    channels: list,
    sampleRateHz,
    channelCount: list.length,
    codec,
    fileSeconds: list[0]!.length / sampleRateHz,
    problems: [],
  });
};

export const codes = (recording: Recording): string[] => recording.problems.map((p) => p.code);

/** White noise of the given rms. */
export function noise(seconds: number, rate: number, rms: number, seed = 1): Float32Array {
  const random = createRandom(seed);
  return sound(seconds, rate, () => rms * random.normal());
}

export interface WasherOptions {
  readonly seconds?: number;
  readonly rate?: number;
  readonly seed?: number;
  /** Drum turns a second over time. */
  readonly drumHz?: (seconds: number) => number;
  /** Height of a knock each turn against the rms of the roar. */
  readonly knock?: number;
  /** Motor whine of five harmonics, nine turns a drum turn, against the rms of the roar. */
  readonly whine?: number;
}

/** Σ gain/h sin(hφ) for h = 1 to count, by sin((h+1)φ) = 2 cos φ sin(hφ) - sin((h-1)φ). */
function harmonics(angle: number, count: number, gain: number): number {
  const twice = 2 * Math.cos(angle);
  let before = 0;
  let now = Math.sin(angle);
  let sum = 0;
  for (let h = 1; h <= count; h++) {
    sum += (gain / h) * now;
    const next = twice * now - before;
    before = now;
    now = next;
  }
  return sum;
}

/**
 * A plain washer: roar swelling once a turn, 100 Hz hum with two harmonics, whine, a knock each turn. The
 * roar's level follows the speed. Rms about 0.05.
 */
export function washer(options: WasherOptions = {}): Float32Array {
  const { seconds = 20, rate = 16_000, seed = 1, knock = 0, whine = 0.2 } = options;
  const drumHz = options.drumHz ?? (() => 10);
  const random = createRandom(seed);
  const out = new Float32Array(Math.round(seconds * rate));
  let turns = 0;
  let age = Infinity;
  let smooth = 0;
  for (let i = 0; i < out.length; i++) {
    const t = i / rate;
    const speed = drumHz(t);
    const before = Math.floor(turns);
    turns += speed / rate;
    age = Math.floor(turns) > before ? 0 : age + 1 / rate;
    smooth += 0.5 * (random.normal() - smooth);
    const loud = 0.2 + speed / 10;
    let x = loud * smooth * (1 + 0.4 * Math.cos(2 * Math.PI * turns));
    if (whine > 0) x += harmonics(2 * Math.PI * 9 * turns + 1, 5, whine * loud);
    x += harmonics(2 * Math.PI * 100 * t, 3, 0.3);
    if (age < 0.6) {
      x += knock * Math.exp(-age / 0.04) * Math.sin(2 * Math.PI * 140 * age);
      x += 0.5 * knock * Math.exp(-age / 0.008) * random.normal();
    }
    out[i] = 0.06 * x;
  }
  return out;
}

/** Two sentences by espeak-ng 1.51 (GPL tool, output free), 8 kHz, about 6.8 s; rms of 1 where it sounds. */
export function speech(): Float32Array {
  const bytes = readFileSync(new URL("./fixtures-speech.wav", import.meta.url));
  const samples = Float32Array.from(bytes.subarray(44), (byte) => (byte - 128) / 128);
  let sum = 0;
  let count = 0;
  for (const x of samples) {
    if (Math.abs(x) < 0.02) continue;
    sum += x * x;
    count++;
  }
  return samples.map((x) => x / Math.sqrt(sum / count));
}

/** Adds the 8 kHz sentences to a 16 kHz sound from a given second on, by linear interpolation. */
export function withSpeech(base: Float32Array, fromSeconds: number, rms: number): Float32Array {
  const words = speech();
  const out = base.slice();
  const start = Math.round(fromSeconds * 16_000);
  for (let i = 0; i < 2 * (words.length - 1) && start + i < out.length; i++) {
    const j = i >> 1;
    out[start + i]! += rms * (i % 2 === 0 ? words[j]! : (words[j]! + words[j + 1]!) / 2);
  }
  return out;
}

/** A feed-forward compressor on the running power: gain = (limit - level)(1 - 1/ratio) dB above the limit. */
export function compress(
  base: Float32Array,
  rate: number,
  law: { limitDb: number; ratio: number; attackSeconds: number; releaseSeconds: number },
): Float32Array {
  const rise = 1 - Math.exp(-1 / (law.attackSeconds * rate));
  const fall = 1 - Math.exp(-1 / (law.releaseSeconds * rate));
  let power = 0;
  return base.map((x) => {
    power += (x * x > power ? rise : fall) * (x * x - power);
    const over = Math.max(0, 10 * Math.log10(power + 1e-12) - law.limitDb);
    return x * 10 ** ((-over * (1 - 1 / law.ratio)) / 20);
  });
}
