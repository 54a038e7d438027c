import { createRandom, type Random } from "../../src/foundation/random.js";
import { listen } from "../../src/evidence/listen.js";
import type { ListeningContext } from "../../src/evidence/context.js";
import { washerById } from "../../src/machine/washers.js";
import type { Phase } from "../../src/machine/words.js";
import type { Recording } from "../../src/recording/recording.js";
import type { SpeedEstimate } from "../../src/speed/speed-estimate.js";

/** Sound of the bench: enough to try line evidence on, knowing nothing of how it is found. */
export interface BenchClip {
  readonly seconds: number;
  readonly seed: number;
  /** Drum speed in Hz at a time. */
  readonly drumHzAt: (seconds: number) => number;
  readonly motorRatio?: number;
  readonly lineHz?: 50 | 60;
  /** Random clicks per second. */
  readonly clicksPerSecond?: number;
  /** Depth of random slow modulation of the noise. */
  readonly randomAm?: number;
  /** Depth of modulation at drum orders 1-6. */
  readonly drumAm?: number;
  /** Level of motor tones (orders 1-4) against the noise, dB. */
  readonly motorDb?: number;
  readonly humDb?: number;
  /** Trains of decaying bursts, once per 1/order turn of the drum. */
  readonly bursts?: readonly BurstTrain[];
  /** Tones at drum orders or fixed frequencies, dB against the noise. */
  readonly tones?: readonly {
    readonly order?: number;
    readonly hz?: number;
    readonly db: number;
  }[];
}

export interface BurstTrain {
  readonly order: number;
  readonly db: number;
  readonly resonanceHz: number;
  /** Standard deviation of a gap as a share of it. */
  readonly jitter: number;
  /** Depth of once-per-turn modulation of the bursts. */
  readonly shaftAm: number;
}

export const BENCH_RATE_HZ = 16_000;

const rms = (x: Float64Array): number => Math.sqrt(x.reduce((sum, v) => sum + v * v, 0) / x.length);

function addScaled(into: Float64Array, part: Float64Array, db: number): void {
  const gain = 10 ** (db / 20) / (rms(part) || 1);
  for (let i = 0; i < into.length; i++) into[i]! += gain * part[i]!;
}

function colouredNoise(random: Random, n: number): Float64Array {
  const out = new Float64Array(n);
  const pole = random.between(0.2, 0.85);
  let y = 0;
  // One random resonance colours it further.
  const f = random.between(300, 4000);
  const r = random.between(0.9, 0.98);
  const c = 2 * r * Math.cos((2 * Math.PI * f) / BENCH_RATE_HZ);
  let r1 = 0;
  let r2 = 0;
  for (let i = 0; i < n; i++) {
    const w = random.normal();
    y = pole * y + w;
    const r0 = c * r1 - r * r * r2 + w;
    r2 = r1;
    r1 = r0;
    out[i] = y + 0.2 * r0;
  }
  return out;
}

function modulate(noise: Float64Array, clip: BenchClip, turns: Float64Array, random: Random): void {
  const { randomAm = 0, drumAm = 0 } = clip;
  const phases = Array.from({ length: 6 }, () => random.between(0, 2 * Math.PI));
  const depths = phases.map((_, k) => (drumAm * random.between(0.3, 1)) / (k + 1));
  let slow = 0;
  const pole = Math.exp(-1 / (0.05 * BENCH_RATE_HZ));
  for (let i = 0; i < noise.length; i++) {
    slow = pole * slow + Math.sqrt(1 - pole * pole) * random.normal();
    let gain = randomAm * slow;
    if (drumAm > 0) {
      for (let k = 0; k < 6; k++) {
        gain += depths[k]! * Math.cos(2 * Math.PI * (k + 1) * turns[i]! + phases[k]!);
      }
    }
    if (gain !== 0) noise[i]! *= Math.exp(gain);
  }
}

function ring(out: Float64Array, at: number, hz: number, amplitude: number, decay: number): void {
  const first = Math.max(0, Math.ceil(at));
  const last = Math.min(out.length, first + Math.ceil((6 / decay) * BENCH_RATE_HZ));
  for (let i = first; i < last; i++) {
    const t = (i - at) / BENCH_RATE_HZ;
    out[i]! += amplitude * Math.exp(-decay * t) * Math.sin(2 * Math.PI * hz * t);
  }
}

function burstTrain(train: BurstTrain, turns: Float64Array, random: Random): Float64Array {
  const out = new Float64Array(turns.length);
  let next = random.uniform() / train.order;
  let i = 0;
  for (;;) {
    while (i < turns.length && turns[i]! < next) i++;
    if (i >= turns.length) return out;
    const load = 1 + train.shaftAm * Math.cos(2 * Math.PI * turns[i]!);
    ring(out, i, train.resonanceHz, load * Math.exp(0.3 * random.normal()), 800);
    // Slip walks: every gap errs on its own (Randall and Antoni, MSSP 25, 2011).
    next += (1 + train.jitter * random.normal()) / train.order;
  }
}

function addSources(out: Float64Array, clip: BenchClip, turns: Float64Array, random: Random): void {
  const { motorRatio, motorDb, lineHz, humDb, clicksPerSecond = 0 } = clip;
  const tone = (phaseAt: (i: number) => number): Float64Array => {
    const start = random.between(0, 1);
    const wave = new Float64Array(out.length);
    for (let i = 0; i < wave.length; i++) wave[i] = Math.sin(2 * Math.PI * (phaseAt(i) + start));
    return wave;
  };
  if (motorRatio !== undefined && motorDb !== undefined) {
    for (let k = 1; k <= 4; k++) {
      const level = motorDb - random.between(0, 12);
      addScaled(
        out,
        tone((i) => k * motorRatio * turns[i]!),
        level,
      );
    }
  }
  if (lineHz !== undefined && humDb !== undefined) {
    for (const k of [2, 4, 6]) {
      addScaled(
        out,
        tone((i) => (k * lineHz * i) / BENCH_RATE_HZ),
        humDb - 3 * k + 6,
      );
    }
  }
  for (const { order, hz, db } of clip.tones ?? []) {
    addScaled(
      out,
      tone((i) => (order !== undefined ? order * turns[i]! : (hz! * i) / BENCH_RATE_HZ)),
      db,
    );
  }
  const clicks = Math.round(clicksPerSecond * clip.seconds);
  for (let c = 0; c < clicks; c++) {
    const size = Math.exp(0.7 * random.normal()) * 12;
    ring(out, random.uniform() * out.length, random.between(600, 6000), size, 500);
  }
  for (const train of clip.bursts ?? []) addScaled(out, burstTrain(train, turns, random), train.db);
}

/** Samples of a clip; the noise alone has an RMS of 1 (levels in dB are against it). */
export function benchSound(clip: BenchClip): Float64Array {
  const random = createRandom(clip.seed);
  const n = Math.round(clip.seconds * BENCH_RATE_HZ);
  const turns = new Float64Array(n);
  for (let i = 1; i < n; i++) {
    turns[i] = turns[i - 1]! + clip.drumHzAt(i / BENCH_RATE_HZ) / BENCH_RATE_HZ;
  }
  const noise = colouredNoise(random.fork("noise"), n);
  modulate(noise, clip, turns, random.fork("am"));
  const out = new Float64Array(n);
  addScaled(out, noise, 0);
  addSources(out, clip, turns, random.fork("sources"));
  return out;
}

export const benchRecording = (samples: ArrayLike<number>, codec = "wav, PCM"): Recording => {
  const seconds = samples.length / BENCH_RATE_HZ;
  const quiet = new Float32Array(samples.length);
  for (let i = 0; i < quiet.length; i++) quiet[i] = samples[i]! * 0.02;
  return {
    samples: quiet,
    sampleRateHz: BENCH_RATE_HZ,
    durationSeconds: seconds,
    channels: 1,
    codec,
    bandHz: [60, 7600],
    problems: [],
    usable: [{ startSeconds: 0, endSeconds: seconds }],
    quality: {
      clippedShare: 0,
      gainPumping: false,
      noiseSuppressed: false,
      speechShare: 0,
      silentShare: 0,
      voiceCodec: false,
    },
  };
};

/** The speed as an estimator would hand it over: off by a share, with a slow wobble of the same size. */
export function benchSpeed(clip: BenchClip, error = 0): SpeedEstimate {
  const off = createRandom(clip.seed + 77);
  const bias = error * off.normal();
  const phase = off.between(0, 6);
  const track = Array.from({ length: Math.floor(clip.seconds / 0.25) + 1 }, (_, i) => {
    const t = i / 4;
    const wobble = error * Math.sin(t / 2 + phase);
    return { timeSeconds: t, drumRpm: 60 * clip.drumHzAt(t) * (1 + bias + wobble) };
  });
  const rpms = track.map(({ drumRpm }) => drumRpm).sort((a, b) => a - b);
  const at = (rpm: number) => ({ value: rpm, low: rpm * 0.995, high: rpm * 1.005 });
  const typical = rpms[rpms.length >> 1]!;
  const ratio = clip.motorRatio === undefined ? null : clip.motorRatio * (1 + error * off.normal());
  return {
    drumRpm: at(typical),
    motorRpm: ratio === null ? null : at(typical * ratio),
    motorToDrum: ratio === null ? null : at(ratio),
    lineHz: clip.lineHz ?? null,
    lineCombDb: clip.humDb === undefined ? null : 12,
    track,
    hopSeconds: 0.25,
    movement: rpms[0]! < 0.98 * rpms[rpms.length - 1]! ? "rising" : "steady",
    spanRpm: [rpms[0]!, rpms[rpms.length - 1]!],
    relativeError: Math.max(0.0005, error),
    notes: [],
    alternative: null,
  };
}

/** A bench clip, listened to. */
export const benchContext = (
  clip: BenchClip,
  options: { readonly machine?: string; readonly error?: number; readonly phase?: Phase } = {},
): ListeningContext =>
  listen(
    benchRecording(benchSound(clip)),
    washerById(options.machine ?? "front-load-belt-universal"),
    benchSpeed(clip, options.error ?? 0),
    options.phase ?? "spin",
  );
