import { mapControl, multiplyByControl } from "../sound/control.js";
import { addRing } from "../sound/strike.js";
import { poissonEvents } from "../sound/events.js";
import { bandNoise, slowDrift } from "../sound/noise.js";
import { controlCount } from "../sound/rate.js";
import type { BackgroundSound, Stage } from "../stage.js";

/** Water running in: jet hiss and the valve's buzz belong to a normal fill. */
export function fillingWater(stage: Stage): BackgroundSound {
  const { random, sampleCount } = stage;
  const samples = bandNoise(
    sampleCount,
    random,
    random.between(150, 700),
    random.between(4e3, 9e3),
  );
  const drift = slowDrift(controlCount(sampleCount), random, random.between(10, 60));
  multiplyByControl(
    samples,
    drift.map((value) => 10 ** ((1.5 * value) / 20)),
  );
  return { path: "open", levelDb: random.between(-3, 3), samples };
}

/** Bubbles and splashes: a Poisson train of short falling-pitch drops over the wash water. */
export function splashing(stage: Stage): BackgroundSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const rate = random.between(8, 40);
  for (const position of poissonEvents(sampleCount, () => rate, rate, random)) {
    const decaySeconds = random.between(0.004, 0.03);
    const gain = Math.exp(0.8 * random.normal());
    addRing(samples, position, gain, { hz: random.between(250, 2500), decaySeconds, gain: 1 });
  }
  const wash = bandNoise(sampleCount, random, 200, random.between(1500, 9000));
  for (let i = 0; i < sampleCount; i++) samples[i] = 0.5 * samples[i]! + 0.25 * wash[i]!;
  const turning = motion.drumHz.map((hz, k) => Math.abs(hz) + Math.abs(motion.agitatorHz[k]!));
  multiplyByControl(
    samples,
    mapControl(turning, (hz) => 0.15 + Math.min(1, hz)),
  );
  return { path: "drum", levelDb: random.between(-8, 2), samples };
}

/** The pump drawing air at the end of the water: loud, irregular and normal. */
export function snore(stage: Stage): BackgroundSound {
  const { random, sampleCount, motion } = stage;
  const samples = bandNoise(
    sampleCount,
    random,
    random.between(250, 800),
    random.between(2e3, 9e3),
  );
  const drift = slowDrift(controlCount(sampleCount), random, random.between(8, 30));
  const start = random.between(0.2, 0.8) * (sampleCount / 48_000);
  const gate = mapControl(motion.pump, (on, t) => (t > start ? on : 0.1 * on));
  multiplyByControl(
    samples,
    drift.map((value, k) => gate[k]! * Math.exp(0.7 * value)),
  );
  return { path: "pump", levelDb: random.between(-6, 3), samples };
}

/** Air moved by the drum: broadband hush that grows with speed. */
export function drumHush(stage: Stage): BackgroundSound {
  const { random, sampleCount, motion } = stage;
  const samples = bandNoise(sampleCount, random, random.between(80, 250), random.between(900, 8e3));
  const exponent = random.between(1.2, 2.5);
  multiplyByControl(
    samples,
    mapControl(motion.drumHz, (hz) => (Math.abs(hz) / 10) ** exponent),
  );
  return { path: "drum", levelDb: random.between(-6, 3), samples };
}
