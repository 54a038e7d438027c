import { controlAt, mapControl, multiplyByControl } from "../sound/control.js";
import { eventsAtTurns, poissonEvents } from "../sound/events.js";
import { bandNoise, slowDrift } from "../sound/noise.js";
import { RATE_HZ, controlCount } from "../sound/rate.js";
import { addRing } from "../sound/strike.js";
import { addTone, harmonicTable, modulate, stack, steadyTurns } from "../sound/tone.js";
import type { Random } from "../../foundation/random.js";
import type { BackgroundSound, Stage } from "../stage.js";

/** A short bright click. */
export function addClick(out: Float64Array, position: number, gain: number, random: Random): void {
  for (let i = 0; i < 3; i++) {
    const ring = {
      hz: random.between(1200, 6000),
      decaySeconds: random.between(0.001, 0.008),
      gain: random.between(0.3, 1),
    };
    addRing(out, position + random.between(0, 60), gain, ring);
  }
}

/** Mode shifter or drain-valve actuator: click, a second or more of buzz, click. */
export function actuatorClicks(stage: Stage): BackgroundSound {
  const { random, sampleCount, lineHz } = stage;
  const samples = new Float64Array(sampleCount);
  const start = random.between(0.1, Math.max(0.2, sampleCount / RATE_HZ - 3));
  const length = random.between(0.6, 3);
  addClick(samples, start * RATE_HZ, 1, random);
  addClick(samples, (start + length) * RATE_HZ, random.between(0.5, 1.2), random);
  const buzz = new Float64Array(sampleCount);
  const turns = steadyTurns(sampleCount, 2 * lineHz, random);
  addTone(buzz, turns, 1, harmonicTable(stack(8, 0.7, random), random), 0.1);
  for (let i = 0; i < sampleCount; i++) {
    const t = i / RATE_HZ;
    if (t > start && t < start + length) samples[i]! += buzz[i]!;
  }
  return { path: "cabinet", levelDb: random.between(-22, -12), samples };
}

/** Relays of the control: a few ticks. */
export function relayTicks(stage: Stage): BackgroundSound {
  const { random, sampleCount } = stage;
  const samples = new Float64Array(sampleCount);
  const count = random.integer(1, 5);
  for (let i = 0; i < count; i++) {
    addClick(samples, random.between(0, sampleCount - 1), random.between(0.3, 1), random);
  }
  return { path: "open", levelDb: random.between(-40, -26), samples };
}

/** Fluid or balls of the balance ring on the move, at the slow ends of a spin. */
export function ringSlosh(stage: Stage): BackgroundSound {
  const { random, sampleCount, motion } = stage;
  const samples = bandNoise(
    sampleCount,
    random,
    random.between(80, 200),
    random.between(500, 1500),
  );
  modulate(samples, motion.drumTurns, 1, random.between(0.4, 0.95), random.between(0, 6));
  modulate(samples, motion.drumTurns, random.between(0.02, 0.15), random.between(0.2, 0.8));
  const centre = random.between(60, 200) / 60;
  multiplyByControl(
    samples,
    mapControl(motion.drumHz, (hz) => Math.exp(-(((Math.abs(hz) - centre) / centre) ** 2))),
  );
  return { path: "drum", levelDb: random.between(-14, -4), samples };
}

/** Zips and buttons on the drum, or a load falling over, in a tumbling wash. */
export function loadRattle(stage: Stage): BackgroundSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const soft = random.chance(0.5);
  const rate = random.between(1.5, 6);
  for (const position of poissonEvents(sampleCount, () => rate, rate, random)) {
    if (Math.abs(controlAt(motion.drumHz, position)) < 0.2) continue;
    const ring = soft
      ? { hz: random.between(60, 250), decaySeconds: random.between(0.03, 0.09), gain: 1 }
      : { hz: random.between(2e3, 7e3), decaySeconds: random.between(0.003, 0.015), gain: 1 };
    addRing(samples, position, Math.exp(0.6 * random.normal()), ring);
  }
  return { path: "drum", levelDb: random.between(-14, -4), samples };
}

/** The upper agitator ratchets by design on its way back. */
export function dualActionRatchet(stage: Stage): BackgroundSound {
  const { random, sampleCount, motion } = stage;
  const samples = new Float64Array(sampleCount);
  const perTurn = random.integer(6, 16);
  for (const position of eventsAtTurns(motion.agitatorTurns, { perTurn, slip: 0.03 }, random)) {
    if (controlAt(motion.agitatorHz, position) < 0) addClick(samples, position, 0.6, random);
  }
  return { path: "drum", levelDb: random.between(-18, -9), samples };
}

/** Belt and bearings in order: a hush at the shaft rates. */
export function runningHush(stage: Stage): BackgroundSound {
  const { random, sampleCount, motion, washer } = stage;
  const samples = bandNoise(
    sampleCount,
    random,
    random.between(300, 900),
    random.between(3e3, 13e3),
  );
  modulate(samples, motion.drumTurns, 1, random.between(0, 0.12), random.between(0, 6));
  if (washer.build.belt) {
    modulate(samples, motion.pulleyTurns, washer.beltToPulley, random.between(0, 0.1));
  }
  const exponent = random.between(0.8, 1.8);
  multiplyByControl(
    samples,
    mapControl(motion.pulleyHz, (hz) => (Math.abs(hz) / 10) ** exponent),
  );
  return { path: "drum", levelDb: random.between(-10, 0), samples };
}

/** A once-per-turn sway that every loaded drum has; louder near the suspension's own speed. */
export function loadSway(stage: Stage): BackgroundSound {
  const { random, sampleCount, motion, washer } = stage;
  const samples = bandNoise(sampleCount, random, 50, random.between(250, 1500));
  modulate(samples, motion.drumTurns, 1, random.between(0.1, 0.5), random.between(0, 6));
  const critical = washer.suspensionRpm / 60;
  multiplyByControl(
    samples,
    mapControl(motion.drumHz, (hz) => Math.min(2.5, (Math.abs(hz) / critical) ** 1.5) * 0.5),
  );
  return { path: "cabinet", levelDb: random.between(-10, 2), samples };
}

/** One heavy thump of a load that falls or a spin that is given up. */
export function singleThump(stage: Stage): BackgroundSound {
  const { random, sampleCount } = stage;
  const samples = new Float64Array(sampleCount);
  const position = random.between(0.1, 0.9) * sampleCount;
  for (let i = 0; i < 3; i++) {
    const ring = { hz: random.between(60, 300), decaySeconds: random.between(0.03, 0.1), gain: 1 };
    addRing(samples, position, random.between(0.4, 1), ring);
  }
  return { path: "cabinet", levelDb: random.between(-22, -12), samples };
}

/** Very slow loudness of the room: what is left when the machine is quiet. */
export function roomTone(stage: Stage): BackgroundSound {
  const { random, sampleCount } = stage;
  const samples = bandNoise(sampleCount, random, 30, random.between(300, 1500));
  const drift = slowDrift(controlCount(sampleCount), random, 200);
  multiplyByControl(
    samples,
    drift.map((value) => 10 ** (value / 20)),
  );
  return { path: "open", levelDb: random.between(-26, -10), samples };
}
