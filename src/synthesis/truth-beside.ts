import { quantile } from "../foundation/statistics.js";
import type { Truth } from "../evaluation/truth.js";
import { describePhone } from "./channel/phone.js";
import type { OtherSoundKind } from "./other-sounds/kinds.js";
import type { ClipRequest } from "./request.js";
import { controlAt } from "./sound/control.js";
import { RATE_HZ } from "./sound/rate.js";
import type { FaultSound, Stage } from "./stage.js";
import type { Place } from "./stems.js";
import { motorToDrum } from "./washer/drawn-washer.js";

const SIMULATOR = "sources on shaft angles";
const TRACK_STEP_SECONDS = 0.5;

const round = (value: number, digits: number): number => Number(value.toFixed(digits));

const describeRoom = ({ room }: Place): string =>
  `room RT60 ${room.rt60Seconds.toFixed(2)} s, direct ${room.directToReverberantDb.toFixed(0)} dB`;

// Standing drums have no speed rather than a speed of 0.
function drumTrack({ motion }: Stage): { timeSeconds: number; rpm: number | null }[] {
  const points = [];
  for (let t = 0; t <= motion.sampleCount / RATE_HZ; t += TRACK_STEP_SECONDS) {
    const rpm = 60 * Math.abs(controlAt(motion.drumHz, t * RATE_HZ));
    points.push({ timeSeconds: t, rpm: rpm < 0.5 ? null : round(rpm, 2) });
  }
  return points;
}

/**
 * Speed during the longest steady part (within 2 % for at least 2 s), or the mean while turning; null
 * when the drum stands throughout.
 */
export function typicalRpm(track: readonly { readonly rpm: number | null }[]): number | null {
  const turning = track.flatMap(({ rpm }) => (rpm === null ? [] : [rpm]));
  if (turning.length === 0) return null;
  let best: number[] = [];
  for (let start = 0; start < track.length; start++) {
    const steady: number[] = [];
    for (let i = start; i < track.length; i++) {
      const rpm = track[i]!.rpm;
      if (rpm === null) break;
      const values = [...steady, rpm];
      if (Math.max(...values) > 1.02 * Math.min(...values)) break;
      steady.push(rpm);
    }
    if (steady.length > best.length) best = steady;
  }
  const mean = turning.reduce((sum, rpm) => sum + rpm, 0) / turning.length;
  return round(best.length >= 2 / TRACK_STEP_SECONDS + 1 ? quantile(best, 0.5) : mean, 2);
}

/** How a washer's clip came out. */
interface Outcome {
  readonly place: Place;
  readonly faultSounds: readonly FaultSound[];
  /** Fault over background, dB; null without a fault. */
  readonly levelDb: number | null;
}

/** The truth of a washer's clip. */
export function washerTruth(request: ClipRequest, stage: Stage, outcome: Outcome): Truth {
  const track = drumTrack(stage);
  const typical = typicalRpm(track);
  const main = outcome.faultSounds[0];
  const variants = outcome.faultSounds.map((sound) => sound.variant).join("; ");
  return {
    schema: "washer-noise/truth@1",
    file: request.file ?? `clip-${request.seed}.wav`,
    washer: true,
    machine: request.machine,
    phase: request.phase,
    faults: outcome.levelDb === null ? [] : [...request.faults],
    character: main && outcome.levelDb !== null ? main.character : "none",
    ...(typical === null ? {} : { drumRpm: { typical, track } }),
    ...(typical === null ? {} : { motorToDrum: round(motorToDrum(stage.washer), 4) }),
    lineHz: Math.abs(stage.lineHz - 50) < 5 ? 50 : 60,
    ...(outcome.levelDb === null ? {} : { faultToBackgroundDb: round(outcome.levelDb, 2) }),
    simulator: `${SIMULATOR}; ${stage.motion.story}; ${describeRoom(outcome.place)}`,
    phone: describePhone(outcome.place.phone),
    codec: "pcm",
    seed: request.seed,
    ...(variants === "" ? {} : { note: variants }),
  };
}

/** The truth of a sound that is no washer. */
export function otherSoundTruth(request: ClipRequest, kind: OtherSoundKind, place: Place): Truth {
  return {
    schema: "washer-noise/truth@1",
    file: request.file ?? `clip-${request.seed}.wav`,
    washer: false,
    faults: [],
    character: "none",
    simulator: `${SIMULATOR}; ${describeRoom(place)}`,
    phone: describePhone(place.phone),
    codec: "pcm",
    seed: request.seed,
    note: kind,
  };
}
