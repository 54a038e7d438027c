import { nextPowerOfTwo } from "../../signal/fft-plan.js";
import type { ListeningContext } from "../context.js";
import { orderSpectrum, type AxisSpectrum } from "./axis-spectrum.js";
import { calibrateMotor, calibrateShaft, type ShaftPlace } from "./calibrate.js";
import {
  bandLogEnvelopes,
  driftSeconds,
  MODULATION_BANDS,
  steadyHalfWidthHz,
  steadyRates,
} from "./envelope-bands.js";
import { harmonicLines, motorLines, type KnownLine } from "./known-lines.js";
import { clippedSum, lineAxis, type LineAxis } from "./line-axis.js";
import { speedSpan, usableSum, type Shafts } from "./shafts.js";

const ENVELOPE_RATE_HZ = 1000;
const FAST_ENVELOPE_RATE_HZ = 4000;
/** Modulation up to here is seen in the slow envelopes without loss. */
export const ENVELOPE_TOP_HZ = 450;
const FAST_ENVELOPE_TOP_HZ = 1800;

// Slip of 1-2 % spreads a bearing line over 0.05-0.2 Hz (random-walk phase), so longer blocks gain
// nothing; a slow drum needs turns.
const ENVELOPE_BLOCK_SECONDS = 8;
const ENVELOPE_BLOCK_TURNS = 40;
// Tones of the sound itself: the clock's error of 0.1-0.3 % smears high orders over longer blocks.
const SOUND_BLOCK_SECONDS = 2;
const SOUND_BLOCK_TURNS = 8;
/** A worn bearing's tones pull the speed estimate of the motor off by up to 0.05 / 3. */
const MOTOR_SEARCH = 0.018;

/** The speed behind a told or estimated drum speed, as far as its own harmonics show it. */
function drumPlaceOf(evidence: AxisInput, shafts: Shafts): ShaftPlace {
  if (!shafts.drumKnown) return { place: 1, error: shafts.error, measured: false };
  const search = Math.min(0.02, Math.max(0.006, 3 * shafts.error));
  return calibrateShaft(evidence, { place: 1, error: shafts.error }, search);
}

interface AxisInput {
  readonly evidence: Float64Array;
  readonly bin: number;
  readonly resolution: number;
}

const asInput = (bands: readonly AxisSpectrum[]): AxisInput => ({
  evidence: clippedSum(bands),
  bin: bands[0]!.bin,
  resolution: bands[0]!.resolution,
});

// Steady lines sit still on an order axis only while the speed does.
function steadyLines(
  context: ListeningContext,
  shafts: Shafts,
  input: AxisInput,
  topHz: number,
): KnownLine[] {
  if (speedSpan(shafts) > 0.02) return [];
  const lineHz = context.speed.lineHz ?? 0;
  return steadyRates(context, topHz).map((hz) => ({
    place: hz / shafts.typicalHz,
    halfWidth:
      steadyHalfWidthHz(hz) / shafts.typicalHz +
      input.resolution / 2 +
      (0.5 * speedSpan(shafts) * hz) / shafts.typicalHz,
    owner: lineHz > 0 && Math.abs(hz / lineHz - Math.round(hz / lineHz)) < 1e-6 ? "mains" : "codec",
  }));
}

const motorOf = (
  shafts: Shafts,
  drum: ShaftPlace,
  measured: ShaftPlace | null,
): { place: number | null; error: number } => {
  if (measured !== null) return measured;
  return {
    place: shafts.motorRatio === null ? null : shafts.motorRatio * drum.place,
    error: 0.005,
  };
};

function envelopeAxis(
  context: ListeningContext,
  shafts: Shafts,
  fast: boolean,
  motor: ShaftPlace | null,
): LineAxis | null {
  const rateHz = fast ? FAST_ENVELOPE_RATE_HZ : ENVELOPE_RATE_HZ;
  const topHz = fast ? FAST_ENVELOPE_TOP_HZ : ENVELOPE_TOP_HZ;
  const logs = bandLogEnvelopes(
    context,
    fast ? (["octave-2k", "octave-4k"] as const) : MODULATION_BANDS,
    { rateHz, driftSeconds: driftSeconds(shafts), emptySteady: !fast },
  );
  const sum = usableSum(context);
  const bands = logs.flatMap(({ values, sampleRateHz }) => {
    const made = orderSpectrum(values, sampleRateHz, shafts.clock, {
      blockTurns: Math.max(ENVELOPE_BLOCK_SECONDS * shafts.typicalHz, ENVELOPE_BLOCK_TURNS),
      maxOrder: topHz / shafts.typicalHz,
      usableSum: sum,
    });
    return made === null ? [] : [made];
  });
  if (bands.length === 0) return null;
  const input = asInput(bands);
  const drum = drumPlaceOf(input, shafts);
  const top = (input.evidence.length - 1) * input.bin;
  const width = 1.5 * input.resolution;
  const { place: motorPlace, error: motorError } = motorOf(shafts, drum, motor);
  const known = [
    ...(shafts.drumKnown
      ? harmonicLines("drum", drum.place, top, (place) =>
          Math.min(0.08, width + place * drum.error),
        )
      : []),
    ...(motorPlace === null || motorPlace < 1.2
      ? []
      : motorLines(
          motorPlace,
          drum.place,
          { harmonics: 3, sidebands: shafts.drumKnown ? 3 : 0, top },
          (place) => Math.min(0.15, width + place * motorError),
        )),
    ...steadyLines(context, shafts, input, topHz),
  ];
  return lineAxis({
    ...input,
    unblanked: input.evidence,
    known,
    drumPlace: shafts.drumKnown ? drum.place : null,
    motorPlace,
    motorError,
    clockError: shafts.error,
    hzPerPlace: shafts.typicalHz,
  });
}

/** Tones of the sound itself over drum orders, with what is needed to read levels from it. */
export interface SoundAxis extends LineAxis {
  readonly spectrum: AxisSpectrum;
  readonly motor: ShaftPlace | null;
}

function soundAxis(context: ListeningContext, shafts: Shafts): SoundAxis | null {
  const { sound, soundRateHz, speed } = context;
  const topHz = Math.min(0.45 * soundRateHz, context.recording.bandHz[1]);
  const spectrum = orderSpectrum(sound, soundRateHz, shafts.clock, {
    blockTurns: Math.max(
      SOUND_BLOCK_TURNS,
      nextPowerOfTwo(0.75 * SOUND_BLOCK_SECONDS * shafts.typicalHz),
    ),
    maxOrder: topHz / shafts.typicalHz,
    steadyHz:
      speed.lineHz === null ? [] : Array.from({ length: 40 }, (_, k) => (k + 1) * speed.lineHz!),
    usableSum: usableSum(context),
  });
  if (spectrum === null) return null;
  const input = asInput([spectrum]);
  const top = (input.evidence.length - 1) * input.bin;
  const { motorRatio } = shafts;
  const motor =
    motorRatio === null || motorRatio < 1.2
      ? null
      : calibrateMotor(input, { place: motorRatio, error: 0.005 }, MOTOR_SEARCH);
  const width = input.resolution;
  const known = [
    // Rumble at the first drum orders; beyond, a phone hears none, and blanking them would leave nothing.
    ...(shafts.drumKnown
      ? harmonicLines("drum", 1, Math.min(top, 6.5), () => Math.min(0.2, width))
      : []),
    ...(motor === null
      ? harmonicLines("motor", motorRatio ?? 0, top, () => Math.min(0.2, width))
      : motorLines(
          motor.place,
          1,
          { harmonics: Math.ceil(top / motor.place), sidebands: shafts.drumKnown ? 1 : 0, top },
          (place) => width + place * Math.min(0.004, motor.error + shafts.error),
        )),
  ];
  return {
    ...lineAxis({
      ...input,
      unblanked: input.evidence,
      known,
      drumPlace: shafts.drumKnown ? 1 : null,
      motorPlace: motor?.place ?? motorRatio,
      motorError: motor?.error ?? 0.001,
      clockError: shafts.error,
      hzPerPlace: shafts.typicalHz,
    }),
    spectrum,
    motor,
  };
}

/** The three views of a clip against the drum's rotation, each made when first asked for. */
export interface DrumAxes {
  readonly shafts: Shafts;
  readonly envelope: () => LineAxis | null;
  readonly fastEnvelope: () => LineAxis | null;
  readonly sound: () => SoundAxis | null;
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}

export function drumAxes(context: ListeningContext, shafts: Shafts): DrumAxes {
  const sound = once(() => soundAxis(context, shafts));
  const motor = (): ShaftPlace | null => {
    const found = shafts.motorRatio === null ? null : (sound()?.motor ?? null);
    return found?.measured === true ? found : null;
  };
  return {
    shafts,
    sound,
    envelope: once(() => envelopeAxis(context, shafts, false, motor())),
    fastEnvelope: once(() => envelopeAxis(context, shafts, true, motor())),
  };
}
