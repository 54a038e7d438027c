import { describe, expect, it } from "vitest";
import type { SpectrogramData } from "../../src/answer/picture-data.js";
import { stretchesOf } from "../../src/answer/picture-data-level.js";
import { usualMotorMark } from "../../src/answer/picture-data-lines.js";
import { rankingRows } from "../../src/answer/picture-data-ranking.js";
import { modulationData, orderData } from "../../src/answer/picture-data-spectra.js";
import { spectrogramData } from "../../src/answer/picture-data-spectrogram.js";
import type { RankedComponent } from "../../src/diagnosis/ranking.js";
import type { LineFinding } from "../../src/evidence/evidence.js";
import { washerById } from "../../src/machine/washers.js";
import { makeContext } from "../evidence/make-context.js";
import { lcgNoise } from "../signal/lcg.js";

const RATE = 16_000;
const SECONDS = 12;

/** Noise whose loudness swells by ±60 % with a phase given in beats. */
const beating = (beatsAt: (seconds: number) => number, seed = 12345): Float64Array =>
  lcgNoise(SECONDS * RATE, seed).map(
    (x, i) => 0.2 * x * (1 + 0.6 * Math.cos(2 * Math.PI * beatsAt(i / RATE))),
  );

const highest = ({
  first,
  step,
  overDb,
}: {
  first: number;
  step: number;
  overDb: Float64Array;
}) => {
  const at = overDb.indexOf(Math.max(...overDb));
  return { place: first + at * step, db: overDb[at]! };
};

const levelAt = (data: SpectrogramData, hz: number): number[] => [
  ...data.octaves.find(({ centreHz }) => centreHz === hz)!.levelsDb,
];

describe("the spectrogram's levels", () => {
  it("give each octave of white noise its share of the power (band edges f/√2 and f√2: IEC 61260-1)", () => {
    // Uniform in ±1: mean square 1/3, spread evenly over 0 to 8 kHz.
    const data = spectrogramData(makeContext(lcgNoise(SECONDS * RATE)), []);
    for (const hz of [125, 250, 500, 1000, 2000, 4000]) {
      const share = (hz * Math.SQRT2 - hz / Math.SQRT2) / 8000;
      const wanted = 10 * Math.log10(share / 3);
      for (const db of levelAt(data, hz)) expect(Math.abs(db - wanted)).toBeLessThan(1);
    }
  });

  it("show when a tone sounds and where", () => {
    const tone = Float64Array.from({ length: SECONDS * RATE }, (_, i) =>
      i > (SECONDS * RATE) / 2 ? 0.5 * Math.sin((2 * Math.PI * 1000 * i) / RATE) : 0,
    );
    const data = spectrogramData(makeContext(tone), []);
    const [early, late] = [levelAt(data, 1000)[1]!, levelAt(data, 1000).at(-2)!];
    expect(late - early).toBeGreaterThan(60);
    const column = Math.round(0.9 * data.columns);
    let loudest = 0;
    for (let r = 0; r < data.rows; r++) {
      if (data.steps[r * data.columns + column]! > data.steps[loudest * data.columns + column]!)
        loudest = r;
    }
    const hz = data.lowHz * (data.highHz / data.lowHz) ** ((loudest + 0.5) / data.rows);
    expect(Math.abs(Math.log2(hz / 1000))).toBeLessThan(0.06);
  });

  it("do not change shape when the recording is made ten times quieter", () => {
    const sound = beating((t) => 3 * t);
    const loud = spectrogramData(makeContext(sound), []);
    const quiet = spectrogramData(makeContext(sound.map((x) => x / 10)), []);
    expect(loud.loudDb - quiet.loudDb).toBeCloseTo(20, 6);
    expect(quiet.steps).toEqual(loud.steps);
  });
});

describe("the spectra of beating", () => {
  it("hold a beat at its order while the drum speeds up from 10 to 20 turns a second", () => {
    const drumHz = (t: number): number => 10 + (10 * t) / SECONDS;
    const turns = (t: number): number => 10 * t + (5 * t * t) / SECONDS;
    const data = orderData(
      makeContext(
        beating((t) => 3.2 * turns(t)),
        { drumHz },
      ),
      [],
    )!;
    const { place, db } = highest(data.curve);
    expect(place).toBeCloseTo(3.2, 1);
    expect(db).toBeGreaterThan(12);
  });

  it("hold a beat at its rate, in every octave that carries it", () => {
    const data = modulationData(makeContext(beating((t) => 37 * t)), [])!;
    for (const { curve } of data.bands) expect(highest(curve!).place).toBeCloseTo(37, 0);
  });

  it("mark a line that follows the drum in hertz only where the drum holds one speed", () => {
    const line = {
      seenIn: "envelope",
      kind: "shaft",
      clock: "drum",
      label: "drum",
      tolerance: 0.01,
    };
    const finding = {
      line: { ...line, hz: 10, drumOrder: 1 },
      heardHz: 10,
      heardOrder: 1,
      p: 1e-6,
      pAdjusted: 1e-5,
      confounded: false,
    } as unknown as LineFinding;
    const marks = (drumHz: (t: number) => number) =>
      modulationData(
        makeContext(
          beating((t) => 5 * t),
          { drumHz },
        ),
        [finding],
      )!.marks;
    expect(marks(() => 10).map(({ place, heard }) => [place, heard])).toEqual([[10, true]]);
    expect(marks((t) => 4 + t)).toEqual([]);
  });

  it("leave out an octave that the recording does not carry, instead of drawing it empty", () => {
    const data = modulationData(
      makeContext(
        beating((t) => 37 * t),
        { bandHz: [100, 3600] },
      ),
      [],
    )!;
    expect(data.bands.map(({ curve }) => curve === null)).toEqual([false, false, false, true]);
  });

  it("show where a motor that was not heard commonly turns, and nothing on a direct drive", () => {
    // A belt of 300 mm on 25 mm pulleys turns the motor about twelve times a drum turn: within the range.
    const belt = usualMotorMark(washerById("front-load-belt-universal").profiles, 20)!;
    expect(belt.low).toBeLessThan(300 / 25);
    expect(belt.high).toBeGreaterThan(300 / 25);
    expect(belt).toMatchObject({ family: "motor", heard: false, pAdjusted: null });
    expect(usualMotorMark(washerById("front-load-direct").profiles, 20)).toBeNull();
  });

  it("have no orders without a drum speed", () => {
    expect(orderData(makeContext(beating((t) => 5 * t)), [])).toBeNull();
  });
});

describe("what the drum does", () => {
  const track = (rpmAt: (t: number) => number | null, seconds: number) =>
    Array.from({ length: seconds * 4 }, (_, i) => ({ timeSeconds: i / 4, drumRpm: rpmAt(i / 4) }));

  it("is told as unheard, speeding up, steady, in stretches that cover the clip", () => {
    const rpm = (t: number): number | null => (t < 5 ? null : t < 15 ? 400 + 80 * (t - 5) : 1200);
    const stretches = stretchesOf(track(rpm, 30), 30);
    expect(stretches.map(({ state }) => state)).toEqual([
      "speed not heard",
      "speeding up",
      "steady",
    ]);
    expect(stretches[0]!.fromSeconds).toBe(0);
    expect(stretches.at(-1)!.toSeconds).toBe(30);
    expect(Math.abs(stretches[1]!.toSeconds - 15)).toBeLessThan(1.6);
  });
});

describe("the interval of a chance", () => {
  const one = (id: string, nats: number) =>
    ({ rule: { id }, nats }) as RankedComponent["contributions"][number];
  const row = (
    component: RankedComponent["component"],
    probability: number,
    contributions: RankedComponent["contributions"],
  ): RankedComponent => ({
    component,
    probability,
    nats: contributions.reduce((sum, { nats }) => sum + nats, 0),
    priorChance: 0.5,
    phaseNats: 0,
    characterNats: 0,
    contributions,
  });
  const three = Math.log(3);

  it("reaches to the chance without the one observation that speaks (Bayes' rule by hand)", () => {
    // Even prior, one observation of 3 to 1: 75 % with it, 50 % without.
    const rows = rankingRows([
      row("drive-belt", 0.75, [one("a", three)]),
      row("drain-pump", 0.25, []),
    ]);
    expect(rows[0]).toMatchObject({ component: "drive-belt", probability: 0.75, high: 0.75 });
    expect(rows[0]!.low).toBeCloseTo(0.5, 9);
    expect(rows[1]!.high).toBeCloseTo(0.5, 9);
  });

  it("knows a cooled ranking: at temperature 2, odds of 9 count as 3, and of 3 as √3", () => {
    const rows = rankingRows([
      row("drive-belt", 0.75, [one("a", three), one("b", three)]),
      row("drain-pump", 0.25, []),
    ]);
    expect(rows[0]!.low).toBeCloseTo(Math.sqrt(3) / (1 + Math.sqrt(3)), 9);
  });

  it("leaves a rule out for all parts at once, also where it speaks against one", () => {
    const rows = rankingRows([
      row("drive-belt", 0.75, [one("a", three / 2)]),
      row("drain-pump", 0.25, [one("a", -three / 2)]),
    ]);
    expect(rows[0]!.low).toBeCloseTo(0.5, 9);
  });
});
