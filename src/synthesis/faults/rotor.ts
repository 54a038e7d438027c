import { largest, mapControl, multiplyByControl } from "../sound/control.js";
import { mixInto, setRms } from "../sound/level.js";
import { bandNoise } from "../sound/noise.js";
import { addTone, harmonicTable, modulate } from "../sound/tone.js";
import type { FaultSound, Stage } from "../stage.js";
import { TICK, addTurnBlows, drawRings } from "./knocks.js";

/** Direct drive: rotor rubbing on the stator, or a loose magnet ticking by. */
export function rotorStator(stage: Stage): FaultSound {
  const { random, sampleCount, motion, washer } = stage;
  const turns = motion.motorTurns;
  const top = Math.max(0.2, largest(motion.motorSpeedHz));
  const rub = bandNoise(sampleCount, random, random.between(800, 1500), random.between(5e3, 9e3));
  modulate(rub, turns, 1, random.between(0.6, 1), random.between(0, 6));
  modulate(rub, turns, 1, random.between(0.2, 0.8), random.between(0, 6));
  multiplyByControl(
    rub,
    mapControl(motion.motorSpeedHz, (hz) => (Math.abs(hz) / top) ** 0.9),
  );
  const ticks = new Float64Array(sampleCount);
  addTurnBlows(stage, ticks, {
    turns,
    events: { perTurn: random.pick([1, 1, 2]) },
    blow: { rings: drawRings(TICK, random), contactSeconds: 0.0003, spread: 0.2 },
    strength: () => 1,
  });
  const poles = new Float64Array(sampleCount);
  addTone(poles, turns, washer.poles, harmonicTable([1, random.between(0, 0.6)], random));
  addTone(poles, turns, 3 * washer.poles, harmonicTable([random.between(0.2, 1)], random));
  modulate(poles, turns, 1, random.between(0.4, 1));
  multiplyByControl(
    poles,
    mapControl(motion.motorSpeedHz, (hz) => Math.abs(hz) / top),
  );
  const rubbing = random.chance(0.6);
  const samples = setRms(rubbing ? rub : ticks, 1);
  mixInto(samples, setRms(rubbing ? ticks : rub, 1), random.between(0.1, 0.4));
  mixInto(samples, setRms(poles, 1), random.between(0.1, 0.8));
  return {
    variant: rubbing ? "rotor rubs" : "magnet ticks",
    character: rubbing ? "grinding" : "rattling",
    carriedHz: [300, 7000],
    samples,
  };
}
