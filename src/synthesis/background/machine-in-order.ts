import { largest } from "../sound/control.js";
import type { BackgroundSound, Stage } from "../stage.js";
import { drumHush, fillingWater, snore, splashing } from "./flow.js";
import { householdSounds } from "./household.js";
import { supplyHum, valveHum } from "./hum.js";
import {
  actuatorClicks,
  dualActionRatchet,
  loadRattle,
  loadSway,
  relayTicks,
  ringSlosh,
  roomTone,
  runningHush,
  singleThump,
} from "./incidental.js";
import { motorSounds } from "./motor.js";
import { pumpSound } from "./pump.js";

type Maker = (stage: Stage) => BackgroundSound;

const named = (stage: Stage, name: string): Stage => ({
  ...stage,
  random: stage.random.fork(name),
});

// Sounds of the drive, present whenever something turns.
function driveSounds(stage: Stage): BackgroundSound[] {
  const { motion, phase } = stage;
  const sounds: BackgroundSound[] = [];
  if (largest(motion.motorSpeedHz) > 0 && phase !== "hand-spin") {
    sounds.push(...motorSounds(named(stage, "motor")));
  }
  if (largest(motion.pulleyHz) > 0) sounds.push(runningHush(named(stage, "hush")));
  if (phase === "spin" || phase === "coast") {
    sounds.push(drumHush(named(stage, "air")), loadSway(named(stage, "sway")));
  }
  return sounds;
}

function flowSounds(stage: Stage): BackgroundSound[] {
  const { random, motion, phase } = stage;
  const sounds: BackgroundSound[] = [];
  if (phase === "fill") {
    sounds.push(fillingWater(named(stage, "fill")), valveHum(named(stage, "valve")));
  }
  if (phase === "wash") sounds.push(splashing(named(stage, "splash")));
  if (phase === "wash" && random.chance(0.15)) sounds.push(fillingWater(named(stage, "refill")));
  if (largest(motion.pump) > 0) {
    const levelDb = phase === "drain" ? random.between(-2, 4) : random.between(-8, 2);
    sounds.push({ path: "pump", levelDb, samples: pumpSound(named(stage, "pump")) });
    if (random.chance(phase === "drain" ? 0.5 : 0.3)) sounds.push(snore(named(stage, "snore")));
  }
  return sounds;
}

// Sounds that a machine in order makes now and then: [sound, phases, axis or both, chance].
const NOW_AND_THEN: readonly (readonly [
  name: string,
  make: Maker,
  phases: readonly string[],
  axis: "vertical" | "horizontal" | "both",
  chance: number,
])[] = [
  ["actuator", actuatorClicks, ["wash", "drain", "spin"], "vertical", 0.35],
  ["relays", relayTicks, ["fill", "wash", "drain", "spin"], "both", 0.4],
  ["slosh", ringSlosh, ["spin", "coast"], "vertical", 0.6],
  ["slosh", ringSlosh, ["spin", "coast"], "horizontal", 0.25],
  ["load", loadRattle, ["wash"], "horizontal", 0.6],
  ["ratchet", dualActionRatchet, ["wash"], "vertical", 0.25],
  ["thump", singleThump, ["wash", "spin"], "both", 0.15],
];

/** All sounds that a washer in order makes in this phase, with the room's own. */
export function machineInOrder(stage: Stage): BackgroundSound[] {
  const { random, phase, washer } = stage;
  const sounds = [...driveSounds(stage), ...flowSounds(stage), roomTone(named(stage, "room"))];
  sounds.push(...householdSounds(named(stage, "household")));
  if (phase !== "hand-spin") sounds.push(supplyHum(named(stage, "supply")));
  for (const [name, make, phases, axis, chance] of NOW_AND_THEN) {
    const fits = phases.includes(phase) && (axis === "both" || axis === washer.build.axis);
    if (fits && random.chance(chance)) sounds.push(make(named(stage, name)));
  }
  return sounds;
}
