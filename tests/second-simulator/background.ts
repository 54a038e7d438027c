import { ringBalls, tumbleBlows } from "./contents.js";
import type { Dice } from "./dice.js";
import { healthyDrumBearing, healthyMotorBearing } from "./faults-turning.js";
import { actuator, gearInput, gulps, pumpRun, ratchetClicks } from "./faults-wash.js";
import { softenInPlace, wander } from "./filters.js";
import { gearForce } from "./gears.js";
import { addBlow } from "./loose-mass.js";
import { motorForce } from "./magnetics.js";
import { soundPump } from "./pump.js";
import { row, type Layer, type Scene } from "./scene.js";
import { bubbleSound, jetForce, windForce } from "./water.js";

/** Everything a machine in order makes in this clip, with levels drawn against each other. */
export function normalLayers(s: Scene): Layer[] {
  const dice = s.dice.part("normal");
  const layers = [...driveLayers(s, dice), ...pumpLayers(s, dice)];
  switch (s.drive.phase) {
    case "fill":
      layers.push(...fillLayers(s, dice));
      break;
    case "wash":
      layers.push(...washLayers(s, dice));
      break;
    case "drain":
      layers.push(
        ...waterLayers(s, dice, { on: s.drive.pump, perSecond: 60, db: dice.range(-18, -6) }),
      );
      break;
    case "hand-spin":
      layers.push(...handLayers(s, dice));
      break;
    default:
      layers.push(...spinLayers(s, dice));
  }
  layers.push(roomNoise(s, dice.part("room")));
  return layers;
}

function driveLayers(s: Scene, dice: Dice): Layer[] {
  const { drive, washer } = s;
  const moving = drive.drumHz.some((v) => v !== 0);
  const layers: Layer[] = [];
  const spinning = drive.phase === "spin" || drive.phase === "coast";
  if (drive.motorHz.some((v) => v !== 0)) {
    layers.push({
      force: motorForce(washer.motor, drive, washer.lineHz, dice.part("motor")),
      path: "motor",
      db: dice.range(-12, 0),
    });
    if (washer.motor.kind !== "outer-magnet")
      layers.push({
        force: healthyMotorBearing({ ...s, dice: dice.part("mb") }),
        path: "motor",
        db: dice.range(-22, -8),
      });
  }
  if (moving)
    layers.push({
      force: healthyDrumBearing({ ...s, dice: dice.part("db") }),
      path: "tub",
      db: dice.range(-14, spinning ? -2 : -10),
    });
  return layers;
}

function pumpLayers(s: Scene, dice: Dice): Layer[] {
  const { drive, washer } = s;
  const layers: Layer[] = [];
  const loud = drive.phase === "drain" ? dice.range(-4, 2) : dice.range(-16, -3);
  if (drive.pump.some((v) => v > 0)) {
    layers.push({
      force: soundPump(pumpRun(s), dice.part("pump"), !washer.pumpOnMotor),
      path: "pump",
      db: loud,
    });
    if (drive.phase === "drain" && dice.chance(0.5))
      layers.push({ force: startKnocks(s, drive.pump, dice), path: "pump", db: dice.range(-6, 3) });
    const snore = row(s, (i) => drive.pump[i]! * drive.air[i]!);
    if (snore.some((v) => v > 0)) {
      const gulp = gulps(s, snore, dice.part("snore"));
      layers.push({
        force: bubbleSound(
          {
            sampleRateHz: drive.sampleRateHz,
            length: drive.length,
            perSecond: 250,
            radiusM: [0.0006, 0.006],
          },
          gulp,
          dice.part("snore"),
        ),
        path: "pump",
        db: loud + dice.range(-10, 0),
      });
      layers.push({
        force: jetForce(gulp, dice.part("snore-jet")),
        path: "air",
        db: loud + dice.range(-16, -5),
      });
    }
  }
  if (drive.recirculation.some((v) => v > 0)) {
    layers.push({
      force: soundPump(
        { ...pumpRun(s), on: drive.recirculation, rotorHz: washer.lineHz },
        dice.part("recirculation"),
        true,
      ),
      path: "pump",
      db: dice.range(-14, -3),
    });
  }
  return layers;
}

/** The impeller takes up its lost motion as the pump starts: one or two knocks. */
function startKnocks(s: Scene, on: Float32Array, dice: Dice): Float32Array {
  const out = new Float32Array(s.drive.length);
  const rate = s.drive.sampleRateHz;
  for (let i = 1; i < out.length; i++) {
    if (on[i]! <= 0 || on[i - 1]! > 0) continue;
    addBlow(out, i + 0.01 * rate, 1, 0.0012 * rate);
    if (dice.chance(0.6)) addBlow(out, i + dice.range(0.03, 0.15) * rate, 0.8, 0.0012 * rate);
  }
  return out;
}

function waterLayers(
  s: Scene,
  dice: Dice,
  o: { on: Float32Array; perSecond: number; db: number },
): Layer[] {
  const { sampleRateHz, length } = s.drive;
  const force = bubbleSound(
    { sampleRateHz, length, perSecond: o.perSecond, radiusM: [0.0005, 0.006] },
    o.on,
    dice.part("bubbles"),
  );
  return [{ force, path: "air", db: o.db }];
}

function fillLayers(s: Scene, dice: Dice): Layer[] {
  const valve = s.drive.valve;
  const w = (2 * Math.PI * s.washer.lineHz) / s.drive.sampleRateHz;
  const hum = row(s, (i) => {
    const a = Math.sin(w * i);
    return valve[i]! * (a * a - 0.5 + 0.2 * a * a * a * a);
  });
  return [
    { force: hum, path: "pipe", db: dice.range(-20, -6) },
    {
      force: jetForce(
        softenInPlace(new Float32Array(valve), 6, s.drive.sampleRateHz),
        dice.part("jet"),
      ),
      path: "air",
      db: dice.range(-6, 0),
    },
    { force: jetForce(valve, dice.part("jet2")), path: "pipe", db: dice.range(-10, -2) },
    ...waterLayers(s, dice, { on: valve, perSecond: dice.range(60, 300), db: dice.range(-8, 2) }),
  ];
}

function washLayers(s: Scene, dice: Dice): Layer[] {
  const { drive, washer } = s;
  const stir = row(s, (i) =>
    Math.min(
      1,
      0.1 + Math.abs(washer.topLoad ? drive.agitatorHz[i]! / 1.2 : drive.drumHz[i]! / 0.8),
    ),
  );
  const layers: Layer[] = [
    ...waterLayers(s, dice, { on: stir, perSecond: dice.range(20, 140), db: dice.range(-10, 0) }),
    {
      force: jetForce(
        softenInPlace(new Float32Array(stir), 2, drive.sampleRateHz),
        dice.part("slosh"),
      ),
      path: "air",
      db: dice.range(-16, -5),
    },
  ];
  if (washer.topLoad) {
    if (washer.gear)
      layers.push({
        force: gearForce(
          washer.gear,
          drive,
          { error: 0.05, flank: 0.12, chipped: false },
          { inputPerMotor: gearInput(washer), dice: dice.part("gears") },
        ),
        path: "tub",
        db: dice.range(-16, -5),
      });
    if (washer.dualAgitator)
      layers.push({
        force: ratchetClicks(s, dice.part("dual"), false),
        path: "plastic",
        db: dice.range(-12, -2),
      });
    return layers;
  }
  const cloth = {
    count: dice.whole(2, 6),
    massKg: dice.range(0.2, 1.2),
    radiusM: 0.1,
    stiffnessPa: dice.ratio(2e4, 3e5),
    restitution: 0.05,
  };
  layers.push({
    force: tumbleBlows(drive, washer.drumRadiusM, cloth, dice.part("cloth")),
    path: "tub",
    db: dice.range(-6, 3),
  });
  if (dice.chance(0.3)) {
    const buttons = {
      count: dice.whole(1, 4),
      massKg: 0.001,
      radiusM: 0.006,
      stiffnessPa: 4e9,
      restitution: 0.4,
    };
    layers.push({
      force: tumbleBlows(drive, washer.drumRadiusM, buttons, dice.part("buttons")),
      path: "panel",
      db: dice.range(-16, -6),
    });
  }
  return layers;
}

function spinLayers(s: Scene, dice: Dice): Layer[] {
  const { drive, washer } = s;
  const layers: Layer[] = [
    {
      force: windForce(drive.drumHz, drive.drumTurns, dice.part("wind")),
      path: "air",
      db: dice.range(-12, 0),
    },
  ];
  layers.push({
    force: windForce(drive.drumHz, drive.drumTurns, dice.part("rumble")),
    path: "cabinet",
    db: dice.range(-10, -1),
  });
  if (washer.belt)
    layers.push({
      force: windForce(
        drive.motorHz.map((v) => v / washer.motorToDrum),
        drive.motorTurns,
        dice.part("belt"),
      ),
      path: "motor",
      db: dice.range(-20, -8),
    });
  if (drive.phase === "spin" && dice.chance(0.4))
    layers.push(
      ...waterLayers(s, dice, {
        on: row(s, () => 0.7),
        perSecond: dice.range(10, 60),
        db: dice.range(-18, -8),
      }),
    );
  if (
    washer.ballRing &&
    Math.min(Math.abs(drive.drumHz[0]!), Math.abs(drive.drumHz[drive.length - 1]!)) < 3
  ) {
    layers.push({
      force: ringBalls(
        drive,
        {
          count: 6,
          topLoad: washer.topLoad,
          bounceHz: washer.bounceHz,
          drag: 3,
          metal: dice.chance(0.4),
        },
        dice.part("ring"),
      ).clacks,
      path: "tub",
      db: dice.range(-12, -2),
    });
  }
  const shifts = washer.profile === "top-load-belt" || washer.profile === "top-load-direct";
  if (shifts && Math.abs(drive.drumHz[0]!) < 0.1 && drive.phase === "spin")
    layers.push(
      ...actuator({ ...s, dice: dice.part("shift") }, { tries: 1, start: 0.05 }).map((l) => ({
        ...l,
        db: l.db - 6,
      })),
    );
  return layers;
}

function handLayers(s: Scene, dice: Dice): Layer[] {
  const { drive } = s;
  const hand = new Float32Array(drive.length);
  for (let k = 0; k < dice.whole(2, 7); k++)
    addBlow(
      hand,
      dice.unit() * drive.length,
      dice.ratio(0.2, 1),
      dice.ratio(0.003, 0.02) * drive.sampleRateHz,
    );
  const rub = dice.part("rub").noise(drive.length);
  const cloth = row(s, (i) => rub[i]! * Math.min(1, Math.abs(drive.drumHz[i]!)));
  return [
    { force: hand, path: "tub", db: dice.range(-6, 2) },
    { force: cloth, path: "air", db: dice.range(-14, -4) },
  ];
}

/** Hiss and rumble of the room itself. */
function roomNoise(s: Scene, dice: Dice): Layer {
  const { sampleRateHz, length } = s.drive;
  const force = softenInPlace(dice.noise(length), dice.ratio(150, 900), sampleRateHz);
  const swell = wander(dice, length, 0.5, 0.25, sampleRateHz);
  for (let i = 0; i < length; i++) force[i]! *= Math.max(0.1, swell[i]!);
  const quiet = s.drive.phase === "hand-spin" ? 6 : 0;
  return { force, path: "air", db: dice.range(-34, -16) + quiet };
}
