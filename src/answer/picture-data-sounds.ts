import { BANDS, type ListeningContext } from "../evidence/context.js";
import type { Evidence, LineFinding } from "../evidence/evidence.js";
import { clamp } from "../foundation/statistics.js";
import type { Character, Component } from "../machine/words.js";
import type { Interval } from "../recording/recording.js";
import { turnsAt } from "../signal/angular.js";
import { butterworth, filterThrough } from "../signal/butterworth.js";
import { LISTENING_BANDS } from "./listening-bands.data.js";
import { isHeard } from "./picture-data-lines.js";
import type { ModulationData, SoundClip } from "./picture-data.js";

const CLIP_SECONDS = 8;
const LEAST_SECONDS = 2;
/** Speech is found to about a second: this much is kept away from its neighbourhood. */
const SPEECH_MARGIN_SECONDS = 1;
/** From this share of speech on no stretch is trusted to be free of it. */
const MOST_SPEECH_SHARE = 0.3;
const LOUDNESS_RMS = 0.12;
const PEAK = 0.9;

export interface PlayedParts {
  readonly character: Character;
  /** Parts in question, likeliest first. */
  readonly suspects: readonly Component[];
}

/** What can be played of a clip. */
export interface Stretches {
  readonly stretch: Interval | null;
  readonly notes: readonly string[];
}

function meanSquare(sound: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += sound[i]! ** 2;
  return sum / Math.max(1, to - from);
}

/** The loudest stretch of up to eight seconds within the allowed intervals. */
function loudest(context: ListeningContext, allowed: readonly Interval[]): Interval | null {
  const { sound, soundRateHz } = context;
  let best: { readonly interval: Interval; readonly worth: number } | null = null;
  for (const { startSeconds, endSeconds } of allowed) {
    const length = Math.min(CLIP_SECONDS, endSeconds - startSeconds);
    if (length < LEAST_SECONDS) continue;
    for (let from = startSeconds; from + length <= endSeconds + 1e-9; from += 1) {
      const power = meanSquare(
        sound,
        Math.round(from * soundRateHz),
        Math.min(sound.length, Math.round((from + length) * soundRateHz)),
      );
      const worth = power * length;
      if (best === null || worth > best.worth) {
        best = { interval: { startSeconds: from, endSeconds: from + length }, worth };
      }
    }
  }
  return best?.interval ?? null;
}

/** The stretch to play, free of speech, and what has to be said of it. */
export function stretchOf(context: ListeningContext): Stretches {
  const { recording } = context;
  const speech = recording.problems.some(({ code }) => code === "speech");
  const whole = [{ startSeconds: 0, endSeconds: context.sound.length / context.soundRateHz }];
  if (!speech && recording.quality.speechShare === 0) {
    return { stretch: loudest(context, recording.usable) ?? loudest(context, whole), notes: [] };
  }
  if (recording.quality.speechShare > MOST_SPEECH_SHARE) {
    return {
      stretch: null,
      notes: ["Somebody speaks in much of this recording, so nothing of it can be played here."],
    };
  }
  const inner = recording.usable.map(({ startSeconds, endSeconds }) => ({
    startSeconds: startSeconds + SPEECH_MARGIN_SECONDS,
    endSeconds: endSeconds - SPEECH_MARGIN_SECONDS,
  }));
  const stretch = loudest(context, inner);
  const note =
    stretch === null
      ? "Somebody speaks in this recording and no stretch free of speech is long enough, so nothing of it can be played here."
      : "Somebody speaks in this recording: what is played is cut from a stretch in which no speech was found.";
  return { stretch, notes: [note] };
}

/** Gain that brings a clip to the common loudness, without clipping; 0 for silence. */
export function gainFor(samples: Float64Array): number {
  const rms = Math.sqrt(meanSquare(samples, 0, samples.length));
  const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  return peak > 0 ? Math.min(LOUDNESS_RMS / rms, PEAK / peak) : 0;
}

/** A clip at a gain, its ends faded. */
export function faded(samples: Float64Array, rateHz: number, gain: number): Float32Array {
  const fade = Math.round(0.02 * rateHz);
  return Float32Array.from(samples, (x, i) => {
    const edge = Math.min(i, samples.length - 1 - i) / fade;
    return x * gain * clamp(edge, 0, 1);
  });
}

const finished = (samples: Float64Array, rateHz: number): Float32Array =>
  faded(samples, rateHz, gainFor(samples));

/** The samples of a stretch. */
export const pieceOf = (
  { sound, soundRateHz }: ListeningContext,
  { startSeconds, endSeconds }: Interval,
): Float64Array =>
  sound.subarray(Math.round(startSeconds * soundRateHz), Math.round(endSeconds * soundRateHz));

/** What of a sound lies between two frequencies. */
export function bandOf(
  samples: Float64Array,
  rateHz: number,
  [low, high]: readonly [number, number],
) {
  const passed = filterThrough(samples, butterworth("high", 4, low / rateHz));
  const top = high / rateHz;
  return top < 0.48 ? filterThrough(passed, butterworth("low", 4, top)) : passed;
}

const PHASE_BINS = 48;

/** Smoothed power of a band, running mean over about four milliseconds. */
function smoothPower(samples: Float64Array, rateHz: number): Float64Array {
  const half = Math.round(0.002 * rateHz);
  const sums = new Float64Array(samples.length + 1);
  for (let i = 0; i < samples.length; i++) sums[i + 1] = sums[i]! + samples[i]! ** 2;
  return Float64Array.from(samples, (_, i) => {
    const from = Math.max(0, i - half);
    const to = Math.min(samples.length, i + half + 1);
    return (sums[to]! - sums[from]!) / (to - from);
  });
}

/**
 * Keeps of a band's swelling only what repeats with a rhythm: the band is levelled out by its own
 * envelope, then given the envelope's mean over one beat, with the beat's swing doubled in dB.
 *
 * @param beatsAt beats since the start at a sample
 */
export function keepRhythm(
  band: Float64Array,
  rateHz: number,
  beatsAt: (sample: number) => number,
): Float64Array {
  const power = smoothPower(band, rateHz);
  const sums = new Float64Array(PHASE_BINS);
  const counts = new Float64Array(PHASE_BINS);
  const binAt = (i: number): number => {
    const beats = beatsAt(i);
    return Math.floor((beats - Math.floor(beats)) * PHASE_BINS) % PHASE_BINS;
  };
  for (let i = 0; i < band.length; i++) {
    const bin = binAt(i);
    sums[bin]! += Math.log(power[i]! + 1e-12);
    counts[bin]!++;
  }
  // A log mean keeps one loud knock from standing for all beats.
  const shape = sums.map((sum, bin) => (counts[bin]! > 0 ? sum / counts[bin]! : 0));
  return band.map((x, i) => (x / Math.sqrt(power[i]! + 1e-12)) * Math.exp(shape[binAt(i)]!));
}

interface Rhythm {
  readonly label: string;
  readonly beatsPerSecond: number;
  /** Beats per drum turn, or null when it does not follow the drum. */
  readonly order: number | null;
  readonly bandHz: readonly [number, number];
}

/** The octave in which a beat stands out most. */
function octaveOf(modulation: ModulationData | null, hz: number): readonly [number, number] {
  let best: readonly [number, number] = BANDS["octave-1k"];
  let highest = -Infinity;
  for (const { curve, lowHz, highHz } of modulation?.bands ?? []) {
    if (curve === null) continue;
    const at = Math.round((hz - curve.first) / curve.step);
    for (let k = at - 2; k <= at + 2; k++) {
      if ((curve.overDb[k] ?? -Infinity) > highest) {
        highest = curve.overDb[k]!;
        best = [lowHz, highHz];
      }
    }
  }
  return best;
}

/** The beat that speaks for a suspect; else the drum's turn, when the noise swells with it. */
function rhythmOf(
  context: ListeningContext,
  evidence: Evidence,
  modulation: ModulationData | null,
  suspects: readonly Component[],
): Rhythm | null {
  const heard = evidence.lines
    .filter(({ line }) => line.seenIn === "envelope" && suspects.includes(line.part))
    .filter((finding: LineFinding) => isHeard(finding))
    .sort((a, b) => a.pAdjusted - b.pAdjusted)[0];
  if (heard !== undefined) {
    return {
      label: heard.line.label,
      beatsPerSecond: heard.heardHz,
      order: heard.heardOrder,
      bandHz: octaveOf(modulation, heard.heardHz),
    };
  }
  const turn = evidence.features["turn-modulation-p"].value;
  const drumRpm = context.speed.drumRpm;
  if (turn === null || turn > 0.01 || drumRpm === null) return null;
  const hz = drumRpm.value / 60;
  return {
    label: "drum, once per turn",
    beatsPerSecond: hz,
    order: 1,
    bandHz: octaveOf(modulation, hz),
  };
}

const kilo = (hz: number): string =>
  hz >= 1000 ? `${Number((hz / 1000).toFixed(1))} kHz` : `${Math.round(hz)} Hz`;

export const bandWords = ([low, high]: readonly [number, number]): string =>
  `${kilo(low)} to ${kilo(high)}`;

function bandClip(
  piece: Float64Array,
  rateHz: number,
  band: { readonly bandHz: readonly [number, number]; readonly note: string },
  fromSeconds: number,
): SoundClip {
  return {
    id: "band",
    title: `Only ${bandWords(band.bandHz)}`,
    note: band.note,
    fromSeconds,
    samples: finished(bandOf(piece, rateHz, band.bandHz), rateHz),
    sampleRateHz: rateHz,
  };
}

function rhythmClip(
  context: ListeningContext,
  piece: Float64Array,
  rhythm: Rhythm,
  fromSeconds: number,
): SoundClip {
  const { soundRateHz: rateHz, drumClock } = context;
  const { order, beatsPerSecond, label } = rhythm;
  const beatsAt =
    order !== null && drumClock !== null
      ? (i: number): number => order * turnsAt(drumClock, fromSeconds + i / rateHz)
      : (i: number): number => (beatsPerSecond * i) / rateHz;
  return {
    id: "rhythm",
    title: `Only what beats with: ${label}`,
    note: `Of ${bandWords(rhythm.bandHz)} only the swelling that comes ${beatsPerSecond.toFixed(1)} times a second is left; all other ups and downs are ironed out.`,
    fromSeconds,
    samples: finished(keepRhythm(bandOf(piece, rateHz, rhythm.bandHz), rateHz, beatsAt), rateHz),
    sampleRateHz: rateHz,
  };
}

/**
 * Short clips to play: the recording, the band the noise lives in, and what beats with the suspected
 * part. None from stretches with speech; the notes say what was left out and why.
 */
export function soundClips(
  context: ListeningContext,
  evidence: Evidence,
  modulation: ModulationData | null,
  parts: PlayedParts,
): { readonly clips: readonly SoundClip[]; readonly notes: readonly string[] } {
  const { stretch, notes } = stretchOf(context);
  if (stretch === null) return { clips: [], notes };
  const { soundRateHz } = context;
  const fromSeconds = stretch.startSeconds;
  const piece = pieceOf(context, stretch);
  const rhythm = rhythmOf(context, evidence, modulation, parts.suspects);
  const band = LISTENING_BANDS.find(({ character }) => character === parts.character);
  const clips: SoundClip[] = [
    {
      id: "recording",
      title: "The recording",
      note: "As recorded, brought to an even loudness.",
      fromSeconds,
      samples: finished(piece, soundRateHz),
      sampleRateHz: soundRateHz,
    },
  ];
  if (band) clips.push(bandClip(piece, soundRateHz, band, fromSeconds));
  if (rhythm) clips.push(rhythmClip(context, piece, rhythm, fromSeconds));
  return { clips, notes };
}
