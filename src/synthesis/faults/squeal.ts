import { mapControl, multiplyByControl } from "../sound/control.js";
import { slowDrift } from "../sound/noise.js";
import { controlCount } from "../sound/rate.js";
import { integrateSpeed } from "../sound/turns.js";
import { addTone, harmonicTable } from "../sound/tone.js";
import type { Stage } from "../stage.js";

/** A stick-slip voice. */
export interface Squeal {
  readonly hz: number;
  /** Pitch wander as a share of the pitch (standard deviation). */
  readonly wander: number;
  readonly harmonics: number;
  /** When and how loud it sounds, one value per control step. */
  readonly gate: Float64Array;
}

/**
 * Stick-slip: a harmonic stack at a pitch of the structure, wandering a few per cent with load and wet
 * and not with speed; its loudness flutters. Shape [sampleCount].
 */
export function squeal(stage: Stage, voice: Squeal): Float64Array {
  const { random, sampleCount } = stage;
  const count = controlCount(sampleCount);
  const slow = slowDrift(count, random, random.between(20, 80));
  const quick = slowDrift(count, random, random.between(3, 8));
  const pitch = slow.map(
    (value, k) => voice.hz * Math.exp(voice.wander * (0.8 * value + 0.4 * quick[k]!)),
  );
  const tilt = random.between(0.6, 1.8);
  const fits = Math.max(1, Math.min(voice.harmonics, Math.floor(15_000 / voice.hz)));
  const amplitudes = Array.from(
    { length: fits },
    (_, k) => (k + 1) ** -tilt * Math.exp(0.4 * random.normal()),
  );
  const out = new Float64Array(sampleCount);
  addTone(out, integrateSpeed(pitch, sampleCount), 1, harmonicTable(amplitudes, random));
  const flutter = slowDrift(count, random, random.between(3, 12));
  multiplyByControl(
    out,
    mapControl(voice.gate, (open, t) => {
      const k = Math.min(count - 1, Math.round(t * 200));
      return open * Math.exp(0.35 * flutter[k]!);
    }),
  );
  return out;
}
