import { describe, expect, it } from "vitest";
import { synthesizeClip } from "../../src/synthesis/clip.js";
import { motorToDrum } from "../../src/synthesis/washer/drawn-washer.js";
import { integrateSpeed } from "../../src/synthesis/sound/turns.js";
import { typicalRpm } from "../../src/synthesis/truth-beside.js";
import { stageFor } from "./stage-for-tests.js";

const RATE = 48_000;

/** Speed from the angle itself, rpm, by a central difference over 10 ms. */
function speedFromAngle(turns: Float64Array, seconds: number): number {
  const i = Math.round(seconds * RATE);
  return ((turns[i + 240]! - turns[i - 240]!) / 480) * RATE * 60;
}

describe("integrateSpeed", () => {
  it("turns a steady rise of speed into a t² / 2", () => {
    const rise = 3.7;
    const speed = Float64Array.from({ length: 1001 }, (_, k) => (rise * k) / 200);
    const turns = integrateSpeed(speed, 240_000);
    for (const i of [1, 239, 240, 100_001, 239_999]) {
      expect(turns[i]).toBeCloseTo(0.5 * rise * (i / RATE) ** 2, 9);
    }
  });
});

describe("moveWasher", () => {
  it.each(["spin", "coast", "wash"] as const)(
    "turns the drum by the integral of its speed in %s",
    (phase) => {
      const { motion } = stageFor({ machine: "front-load-belt-bldc", phase, seed: 8 });
      for (let t = 0.5; t < 9.5; t += 0.5) {
        const told = motion.drumHz[Math.round(t * 200)]! * 60;
        expect(Math.abs(speedFromAngle(motion.drumTurns, t) - told)).toBeLessThan(
          0.5 + 0.003 * Math.abs(told),
        );
      }
    },
  );

  it("ties the motor to the drum by the ratio of the pulleys", () => {
    const { motion, washer } = stageFor({
      machine: "front-load-belt-universal",
      phase: "spin",
      steadyRpm: 1000,
      seconds: 2,
      washer: { motorToPulley: 11.5, creep: 0 },
    });
    expect(motorToDrum(washer)).toBe(11.5);
    expect(speedFromAngle(motion.motorTurns, 1)).toBeCloseTo(11_500, 3);
  });

  it("turns the sun of a planetary set 1 + ring/sun times for each turn of the agitator", () => {
    // 16/24/64 teeth with the ring held: five turns in for one turn out (textbook kinematics).
    const { motion } = stageFor({
      machine: "top-load-belt",
      phase: "wash",
      washer: { pulleyToAgitator: 1 + 64 / 16, motorToPulley: 2.5, creep: 0 },
    });
    const k = motion.agitatorHz.findIndex((hz) => hz > 0.5);
    expect(motion.pulleyHz[k]! / motion.agitatorHz[k]!).toBeCloseTo(5, 9);
    expect(motion.motorSpeedHz[k]! / motion.agitatorHz[k]!).toBeCloseTo(12.5, 9);
  });

  it("reverses the agitator once for every stroke", () => {
    const { motion } = stageFor({ machine: "top-load-belt", phase: "wash", seed: 4 });
    const directions = [...motion.agitatorHz].map((hz) =>
      Math.abs(hz) < 0.05 ? 0 : Math.sign(hz),
    );
    const strokes = directions.filter((sign, k) => sign !== 0 && directions[k - 1] === 0).length;
    // Two jerks, start and stop, belong to a stroke; the last one may be cut off.
    expect(Math.abs(strokes - motion.jerks.length / 2)).toBeLessThanOrEqual(1);
    expect(directions).toContain(1);
    expect(directions).toContain(-1);
  });

  it("lets the drum come to rest when the clip has to show it", () => {
    const { motion } = stageFor({
      machine: "front-load-direct",
      phase: "coast",
      needs: ["to-rest"],
    });
    expect(motion.drumHz[0]! * 60).toBeGreaterThan(300);
    expect(motion.drumHz[motion.drumHz.length - 2]).toBe(0);
    for (let k = 1; k < motion.drumHz.length; k++) {
      expect(motion.drumHz[k]!).toBeLessThanOrEqual(motion.drumHz[k - 1]! + 1e-12);
    }
  });

  it("runs an induction motor on the mains at the synchronous speed less its slip", () => {
    // Four poles on 50 Hz: 1500 rpm; with 4.2 % slip 1437 rpm (textbook: n = 120 f / p (1 - s)).
    const { motion } = stageFor({
      machine: "top-load-belt",
      phase: "spin",
      needs: ["run-up"],
      washer: { poles: 4, inductionSlip: 0.042, creep: 0 },
      seconds: 60,
    });
    const last = motion.motorSpeedHz[motion.motorSpeedHz.length - 20]! * 60;
    expect(Math.abs(last / 1437 - 1)).toBeLessThan(0.015);
  });
});

describe("the truth beside a clip", () => {
  it("gives the drum's speed every half second, null while it stands", () => {
    const { truth } = synthesizeClip({
      seed: 6,
      machine: "front-load-belt-bldc",
      phase: "coast",
      faults: ["suspension"],
      durationSeconds: 8,
    });
    const track = truth.drumRpm!.track!;
    expect(track.map(({ timeSeconds }) => timeSeconds)).toEqual(
      Array.from({ length: 17 }, (_, i) => i / 2),
    );
    expect(track[0]!.rpm).toBeGreaterThan(300);
    expect(track.at(-1)!.rpm).toBeNull();
  });

  it("leaves the drum's speed out where the drum does not turn", () => {
    const { truth } = synthesizeClip({
      seed: 6,
      machine: "top-load-belt",
      phase: "wash",
      faults: ["gear-case"],
      durationSeconds: 3,
    });
    expect(truth.drumRpm).toBeUndefined();
    expect(truth.motorToDrum).toBeUndefined();
  });
});

describe("typicalRpm", () => {
  const track = (rpms: readonly (number | null)[]) => rpms.map((rpm) => ({ rpm }));

  it("is the speed of the longest steady part", () => {
    const rpms = [100, 300, 500, 700, 800, 801, 799, 800, 802, 800, 800];
    expect(typicalRpm(track(rpms))).toBe(800);
  });

  it("is the mean while turning when no part is steady", () => {
    expect(typicalRpm(track([100, 200, 300, null]))).toBe(200);
  });

  it("is null for a drum that stands", () => {
    expect(typicalRpm(track([null, null]))).toBeNull();
  });
});
