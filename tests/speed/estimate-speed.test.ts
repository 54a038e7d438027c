import { describe, expect, it } from "vitest";
import {
  bursts,
  mix,
  normalised,
  pinkNoise,
  seeded,
  turnMoments,
} from "../evidence/small-sounds.js";
import { washerById } from "../../src/machine/washers.js";
import { estimateSpeed, type SpeedOptions } from "../../src/speed/estimate-speed.js";
import type { SpeedEstimate } from "../../src/speed/speed-estimate.js";
import { resample } from "../../src/signal/resample.js";
import { drawClip } from "../plain-recipes/clip.js";
import { otherSound, type OtherSound } from "./other-sounds.js";
import { RATE_HZ, spinSound, type SpinSound } from "./spin-sound.js";

const BELT: SpinSound = {
  seed: 11,
  seconds: 8,
  drumHzAt: () => 15,
  ratio: 10.7,
  toneDb: -3,
  depths: [0.25, 0.1, 0.05],
  lineHz: 50,
  humDb: 0,
};

const estimate = (
  sound: Float64Array,
  machine: string,
  more: Partial<SpeedOptions> = {},
): SpeedEstimate =>
  estimateSpeed(sound, RATE_HZ, {
    washer: washerById(machine),
    phase: "spin",
    bandHz: [80, 7500],
    ...more,
  });

const heardAt = (got: SpeedEstimate, seconds: number): number | null =>
  got.track.find((point) => Math.abs(point.timeSeconds - seconds) <= 0.26)!.drumRpm;

/** Difference in percent. */
const off = (value: number, truth: number): number => 100 * Math.abs(value / truth - 1);

describe("a spin at one speed", () => {
  const sound = spinSound(BELT);
  const got = estimate(sound, "front-load-belt-universal");

  it("is read within 0.5 %, with motor, ratio and mains, under hum as loud as the noise", () => {
    expect(off(got.drumRpm!.value, 900)).toBeLessThan(0.5);
    expect(off(got.motorToDrum!.value, 10.7)).toBeLessThan(1);
    expect(off(got.motorRpm!.value, 9630)).toBeLessThan(0.3);
    expect(got.lineHz).toBe(50);
    expect(got.lineCombDb).toBeGreaterThan(10);
    expect(got.movement).toBe("steady");
    expect(got.notes).toContain("ratio-estimated");
  });

  it("lies in its own interval, which is no wider than 3 %", () => {
    expect(got.drumRpm!.low).toBeLessThan(900);
    expect(got.drumRpm!.high).toBeGreaterThan(900);
    expect(got.drumRpm!.high / got.drumRpm!.low).toBeLessThan(1.03);
  });

  it("does not depend on the gain of the recording", () => {
    const quiet = estimate(
      sound.map((v) => 0.003 * v),
      "front-load-belt-universal",
    );
    expect(quiet.drumRpm!.value).toBeCloseTo(got.drumRpm!.value, 3);
  });

  it("gives a track point every half second", () => {
    expect(got.track).toHaveLength(16);
    expect(got.track.filter((point) => point.drumRpm !== null).length).toBeGreaterThan(12);
  });

  it("overrules a told speed that the sound contradicts", () => {
    const other = estimate(sound, "front-load-belt-universal", { toldDrumRpm: 1400 });
    expect(off(other.drumRpm!.value, 900)).toBeLessThan(1);
    expect(other.notes).toContain("told-speed-contradicted");
  });

  it("is found without being told the kind of washer", () => {
    const other = estimate(sound, "unknown", { phase: "unknown" });
    expect(off(other.drumRpm!.value, 900)).toBeLessThan(1);
  });
});

describe("a told speed", () => {
  it("lets a faint once-per-turn line count that would not stand alone", () => {
    const faint = spinSound({ ...BELT, seed: 12, toneDb: null, depths: [0.05], humDb: null });
    const told = estimate(faint, "front-load-belt-universal", { toldDrumRpm: 890 });
    expect(off(told.drumRpm!.value, 900)).toBeLessThan(1);
    expect(told.notes).toContain("told-speed-used");
  });

  it("is followed beyond what washers do, as on a test rig at 1797 rpm", () => {
    const rig = spinSound({ ...BELT, seed: 13, seconds: 6, drumHzAt: () => 29.95, toneDb: null });
    const told = estimate(rig, "front-load-direct", { toldDrumRpm: 1780 });
    expect(off(heardAt(told, 3.25)!, 1797)).toBeLessThan(0.5);
  });
});

describe("a changing speed", () => {
  // Closed form: f(t) = 5 + 0.75 t Hz, so 600 rpm at 6.67 s and 900 rpm at 13.33 s.
  it("is followed up a straight run-up from 5 to 20 Hz in 20 s", () => {
    const sound = spinSound({ ...BELT, seconds: 20, drumHzAt: (t) => 5 + 0.75 * t });
    const got = estimate(sound, "front-load-belt-universal");
    // Track points lie at quarter seconds: f(6.25) = 9.6875 Hz, f(14.25) = 15.6875 Hz.
    expect(off(heardAt(got, 6.25)!, 581.25)).toBeLessThan(0.5);
    expect(off(heardAt(got, 14.25)!, 941.25)).toBeLessThan(0.5);
    expect(got.movement).toBe("rising");
  });

  it("is followed down a run-down", () => {
    const drumHzAt = (t: number): number => 18 * Math.exp(-0.07 * t);
    const got = estimate(
      spinSound({ ...BELT, seed: 5, seconds: 8, drumHzAt }),
      "front-load-belt-universal",
      { phase: "coast" },
    );
    expect(off(heardAt(got, 5.25)!, 60 * drumHzAt(5.25))).toBeLessThan(1);
    expect(got.movement).toBe("falling");
  });
});

describe("a drum that comes to rest", () => {
  // Friction takes off the same speed each second: f(t) = 15 - 1.5 t Hz, at rest after 10 of 12 s.
  const drumHzAt = (t: number): number => Math.max(0.02, 15 - 1.5 * t);
  const sound = spinSound({ ...BELT, seed: 6, seconds: 12, drumHzAt, toneDb: null });
  const got = estimate(sound, "front-load-belt-universal", { phase: "coast" });

  it("is followed while it is heard", () => {
    expect(off(heardAt(got, 2.25)!, 60 * drumHzAt(2.25))).toBeLessThan(2);
    expect(off(heardAt(got, 5.25)!, 60 * drumHzAt(5.25))).toBeLessThan(2);
    expect(got.movement).toBe("falling");
  });

  it("has an interval that is no wider than what it went through", () => {
    expect(got.drumRpm!.low).toBeGreaterThan(0);
    expect(got.drumRpm!.high).toBeLessThan(1.2 * 900);
  });
});

describe("a faint turn", () => {
  const faint = (seed: number, depth: number): Float64Array =>
    spinSound({ ...BELT, seed, seconds: 12, toneDb: null, depths: [depth] });

  it("is told where a spin was told, since the drum turns then for certain", () => {
    const got = estimate(faint(18, 0.06), "front-load-belt-universal");
    expect(off(got.drumRpm!.value, 900)).toBeLessThan(1);
  });

  it("that is told in a spin is not told where no phase was", () => {
    const sound = faint(12, 0.07);
    expect(off(estimate(sound, "front-load-belt-universal").drumRpm!.value, 900)).toBeLessThan(1);
    expect(estimate(sound, "front-load-belt-universal", { phase: "unknown" }).drumRpm).toBeNull();
  });
});

describe("dull thumps once a turn", () => {
  it("give the drum though nothing above 150 Hz beats, under noise 5 dB stronger", () => {
    const seconds = 12;
    const thumps = turnMoments(seconds, () => 6, { random: seeded(51) });
    const sound = mix(
      [1, pinkNoise(seconds, seeded(1))],
      [0.55, normalised(bursts(seconds, thumps, 105, 0.03))],
    );
    const got = estimate(sound, "front-load-direct", { bandHz: [60, 7500] });
    expect(off(got.drumRpm!.value, 360)).toBeLessThan(1);
  });
});

describe("a load that clumps once a turn in a run-up, beside tones that would fit another speed", () => {
  it("gives the drum: what shows no turn of its own does not speak against it", () => {
    const { samples, sampleRateHz, truth } = drawClip(1_500_012, {
      normalShare: 0.1,
      notWasherShare: 0,
    });
    expect(truth.faults).toEqual(["unbalanced-load"]);
    const sound = resample(samples, sampleRateHz, RATE_HZ);
    const got = estimate(sound, truth.machine!, { bandHz: [60, 5000] });
    for (const { timeSeconds, rpm } of truth.drumRpm!.track!) {
      if (timeSeconds !== 6.3 && timeSeconds !== 11.3) continue;
      expect(off(heardAt(got, timeSeconds)!, rpm!)).toBeLessThan(3);
    }
  });
});

describe("a beat faster than any such machine spins", () => {
  // Top loaders with a belt stop at 1000 rpm: 1440 rpm is the motor's own rotation.
  it("is not told as the drum's", () => {
    const drumHzAt = (): number => 24;
    const sound = spinSound({ ...BELT, seed: 9, toneDb: null, depths: [0.3, 0.2, 0.2], drumHzAt });
    const got = estimate(sound, "top-load-belt");
    expect(got.drumRpm === null || got.drumRpm.high < 1200).toBe(true);
  });
});

describe("the kind of drive", () => {
  // 36 slots and 42 poles: tones at 42, 126 (6 p) and 252 (least common multiple) per turn.
  it("direct: pole and slot orders give the drum, and the motor is the drum", () => {
    const got = estimate(
      spinSound({
        ...BELT,
        seed: 7,
        seconds: 6,
        drumHzAt: () => 13.3,
        ratio: 42,
        toneOrders: [42, 126, 252],
      }),
      "front-load-direct",
    );
    expect(off(got.drumRpm!.value, 798)).toBeLessThan(0.5);
    expect(got.motorToDrum!.value).toBe(1);
    expect(got.motorRpm!.value).toBe(got.drumRpm!.value);
  });

  // Four poles at 60 Hz with 4.2 % slip: 1725 rpm on the rating plate of such motors; 2.5 gives 690.
  it("belt behind a motor on the mains", () => {
    const sound = { ...BELT, seed: 8, seconds: 6, lineHz: 60 as const, ratio: 2.5 };
    const got = estimate(spinSound({ ...sound, drumHzAt: () => 11.5 }), "top-load-belt");
    expect(off(got.drumRpm!.value, 690)).toBeLessThan(1);
    expect(got.lineHz).toBe(60);
  });
});

describe("which multiple is heard", () => {
  // Greatest common divisor of 16, 24 and 40 Hz.
  it("modulation at 2, 3 and 5 per turn only is a drum at 8 Hz", () => {
    const sound = spinSound({
      ...BELT,
      seed: 21,
      seconds: 8,
      drumHzAt: () => 8,
      toneDb: null,
      humDb: null,
      depths: [0, 0.25, 0.2, 0, 0.2],
    });
    const got = estimate(sound, "front-load-belt-universal");
    expect(Math.abs(got.drumRpm!.value / 60 - 8)).toBeLessThan(0.05);
  });

  // Outer race at 3.05 per turn (8 balls): close to three per turn, but another family.
  it("a bearing's outer race at 3.05 per turn does not bend the speed", () => {
    const otherLines = [3.05, 6.1].map((order) => [order, 0.25] as const);
    const got = estimate(
      spinSound({ ...BELT, seed: 22, seconds: 6, toneDb: null, depths: [0.15], otherLines }),
      "front-load-belt-universal",
    );
    expect(off(got.drumRpm!.value, 900)).toBeLessThan(0.6);
  });
});

describe("no speed is made up", () => {
  const nothing = (sound: Float64Array, machine = "unknown"): SpeedEstimate =>
    estimate(sound, machine, { phase: "unknown" });

  it.each<OtherSound>(["white", "rain", "speech", "clock", "pump", "fan"])("for %s", (kind) => {
    const got = nothing(otherSound(kind, 7, 3));
    expect(got.drumRpm).toBeNull();
    expect(got.notes).toContain("no-speed-heard");
    expect(got.track.every((point) => point.drumRpm === null)).toBe(true);
  });

  it("for hum alone, whose mains frequency is told from even multiples and off by 0.1 Hz", () => {
    const sound = otherSound("white", 7, 9).map((v, i) => {
      const t = (2 * Math.PI * i) / RATE_HZ;
      return 0.3 * v + Math.sin(120.2 * t) + 0.6 * Math.sin(240.4 * t) + 0.3 * Math.sin(480.8 * t);
    });
    const got = nothing(sound, "top-load-belt");
    expect(got.drumRpm).toBeNull();
    expect(got.track.every((point) => point.drumRpm === null)).toBe(true);
    expect(got.lineHz).toBe(60);
  });

  it("for a clockwork that ticks eight times a second in a quiet room", () => {
    const sound = otherSound("white", 7, 8).map((v, i) => v * (i % 2000 < 60 ? 1 : 0.02));
    expect(nothing(sound).drumRpm).toBeNull();
  });

  // 1024 samples at 48 kHz: 46.875 frames a second. Half of it would be a drum at 1406 rpm.
  it("for noise that a codec modulates at its frame rate", () => {
    const sound = otherSound("pink", 7, 4).map(
      (v, i) => v * (1 + 0.3 * Math.cos((2 * Math.PI * 46.875 * i) / RATE_HZ)),
    );
    expect(nothing(sound).drumRpm).toBeNull();
  });
});

describe("phases in which a drum stands or turns slowly", () => {
  const noise = otherSound("pink", 8, 2);

  it("drain: the drum stands", () => {
    const got = estimate(noise, "front-load", { phase: "drain" });
    expect(got.drumRpm).toBeNull();
    expect(got.movement).toBe("still");
  });

  it("wash in a top loader: the basket is held while the agitator goes to and fro", () => {
    const got = estimate(noise, "top-load-belt", { phase: "wash" });
    expect(got.drumRpm).toBeNull();
    expect(got.movement).toBe("stop-and-go");
  });

  it("wash in a front loader: under 20 s only the usual range can be told", () => {
    const got = estimate(noise, "front-load-direct", { phase: "wash" });
    expect(got.drumRpm).toBeNull();
    expect(got.notes).toContain("tumble-range-only");
  });

  it("wash in a front loader: 22 s of tumbling give the speed within 5 %", () => {
    const sound = spinSound({
      ...BELT,
      seed: 31,
      seconds: 22,
      drumHzAt: () => 0.8,
      toneDb: null,
      depths: [0.2, 0.1, 0.3],
    });
    const got = estimate(sound, "front-load-belt-universal", { phase: "wash" });
    expect(off(got.drumRpm!.value, 48)).toBeLessThan(5);
  });
});

describe("a motor that drowns its drum", () => {
  const drowned: SpinSound = {
    ...BELT,
    seconds: 9,
    depths: [],
    toneDb: 6,
    drumHzAt: (t) => 10 + t / 3,
  };

  it("is told by itself, with no drum speed made up", () => {
    const got = estimate(spinSound(drowned), "front-load-belt-universal");
    expect(got.drumRpm).toBeNull();
    expect(off(got.motorRpm!.value, 60 * 11.5 * 10.7)).toBeLessThan(1);
    expect(off(got.motorAloneRpm![12]!, 60 * (10 + 6.25 / 3) * 10.7)).toBeLessThan(1);
    expect(got.notes).toEqual(["motor-only"]);
  });

  it("is not heard in hum, nor in noise", () => {
    for (const humDb of [null, 6]) {
      const sound = spinSound({ ...drowned, seconds: 6, toneDb: null, humDb });
      expect(estimate(sound, "front-load-belt-universal").motorRpm).toBeNull();
    }
  });
});
