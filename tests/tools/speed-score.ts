/* eslint-disable no-console */
// Scores the speed estimate on the clips of tests/speed (belt, direct and mains-fed drives; plateau, ramp,
// run-down and steps; tones at 0 and -9 dB) and on sounds that are no drum.
//   npm run build:tools && node .tools/tests/tools/speed-score.js [clips per cell] [seconds] [machine|family|unknown] [print|-] [told|-] [first seed]
import { washerById } from "../../src/machine/washers.js";
import { median } from "../../src/foundation/statistics.js";
import { estimateSpeed } from "../../src/speed/estimate-speed.js";
import type { SpeedEstimate } from "../../src/speed/speed-estimate.js";
import { OTHER_SOUNDS, otherSound } from "../speed/other-sounds.js";
import { spinCase, type Drive, type Motion, type SpinCase } from "../speed/spin-cases.js";
import { spinSound } from "../speed/spin-sound.js";

const clips = Number(process.argv[2] ?? 4);
const seconds = Number(process.argv[3] ?? 15);
const naming = process.argv[4] ?? "machine";
const print = process.argv[5] === "print";
const told = process.argv[6] === "told";
const first = Number(process.argv[7] ?? 0);

interface Cell {
  n: number;
  silent: number;
  within: number;
  octave: number;
  covered: number;
  errors: number[];
  trackBad: number;
}
const cells = new Map<string, Cell>();
let cpu = 0;

function typicalOf(c: SpinCase): number {
  const n = Math.floor(seconds * 2);
  const hz = Array.from({ length: n }, (_, i) => c.sound.drumHzAt((i + 0.5) / 2));
  if (c.motion === "plateau") return hz.reduce((a, b) => a + b, 0) / n;
  if (c.motion === "steps") return hz[n - 1]!;
  return hz.reduce((a, b) => a + b, 0) / n;
}

function add(key: string, error: number | null, covered: boolean, trackBad: number): void {
  const cell = cells.get(key) ?? {
    n: 0,
    silent: 0,
    within: 0,
    octave: 0,
    covered: 0,
    errors: [],
    trackBad: 0,
  };
  cells.set(key, cell);
  cell.n++;
  if (error === null) {
    cell.silent++;
    return;
  }
  cell.errors.push(Math.abs(error));
  if (Math.abs(error) < 0.01) cell.within++;
  if (Math.abs(error) > 0.1) cell.octave++;
  if (covered) cell.covered++;
  cell.trackBad += trackBad;
}

function score(c: SpinCase): void {
  const { motion } = c;
  const name = naming === "machine" ? c.machine : naming === "family" ? c.family : naming;
  const typical = typicalOf(c);
  const sound = spinSound(c.sound);
  const before = process.cpuUsage();
  const got = estimateSpeed(sound, 16_000, {
    washer: washerById(name),
    phase: motion === "coast" ? "coast" : "spin",
    bandHz: [0.7 * c.sound.highPassHz!, 7500],
    ...(told ? { toldDrumRpm: Math.round((typical * 60) / 50) * 50 } : {}),
  });
  const used = process.cpuUsage(before);
  cpu += (used.user + used.system) / 1e6;
  judge(c, got, typical);
}

function judge(c: SpinCase, got: SpeedEstimate, typical: number): void {
  const { motion, drive } = c;
  // A track's parts may be cut off at the ends: compare with the truth over the same frames.
  const errors = got.track
    .filter((p) => p.drumRpm !== null)
    .map((p) => Math.log(p.drumRpm! / 60 / c.sound.drumHzAt(p.timeSeconds)));
  const bad = errors.filter((e) => Math.abs(e) > 0.02).length / Math.max(1, errors.length);
  // The last steady part of "steps" takes 40 % of the clip; under 4 s it is no plateau.
  const holds = motion === "plateau" || (motion === "steps" && 0.4 * seconds >= 5);
  const ln = Math.log((got.drumRpm?.value ?? 1) / 60 / typical);
  const error = got.drumRpm === null ? null : holds ? ln : median(errors);
  const reach = got.drumRpm === null ? 0 : Math.log(got.drumRpm.high / got.drumRpm.value);
  const covered = error !== null && Math.abs(error) <= reach + 1e-9;
  for (const key of [motion, drive, `${c.sound.toneDb} dB`, "all"]) add(key, error, covered, bad);
  if (print && (error === null || Math.abs(error) > 0.01)) {
    console.log(motion, drive, c.sound.toneDb, c.sound.seed, "true", (60 * typical).toFixed(0));
    console.log("   got", got.drumRpm, got.motorToDrum, c.sound.ratio.toFixed(2), got.notes.join());
  }
}

for (const motion of ["plateau", "ramp", "coast", "steps"] as Motion[]) {
  for (const drive of ["belt", "direct", "top-induction"] as Drive[]) {
    for (const toneDb of [0, -9]) {
      for (let seed = first; seed < first + clips; seed++) {
        score(spinCase(motion, drive, seconds, toneDb, seed));
      }
    }
  }
}

const percent = (a: number, b: number): string =>
  ((100 * a) / Math.max(1, b)).toFixed(0).padStart(4);
console.log("cell            n  none%  <1%(of answered)  >10%  cover%  median%  track>2%");
for (const [key, c] of cells) {
  const answered = c.n - c.silent;
  const sorted = [...c.errors].sort((a, b) => a - b);
  console.log(
    key.padEnd(14),
    String(c.n).padStart(3),
    percent(c.silent, c.n),
    percent(c.within, answered).padStart(10),
    percent(c.octave, answered).padStart(12),
    percent(c.covered, answered),
    "  ",
    (100 * (sorted[sorted.length >> 1] ?? NaN)).toFixed(2),
    percent(c.trackBad, answered),
  );
}
console.log(`cpu per clip ${(cpu / (cells.get("all")?.n ?? 1)).toFixed(2)} s`);

let falseSpeeds = 0;
let others = 0;
for (const kind of OTHER_SOUNDS) {
  for (let seed = first; seed < first + clips * 2; seed++) {
    const name =
      naming === "machine"
        ? "front-load-belt-universal"
        : naming === "family"
          ? "front-load"
          : naming;
    const got = estimateSpeed(otherSound(kind, seconds, seed), 16_000, {
      washer: washerById(name),
      phase: "unknown",
      bandHz: [60, 7500],
    });
    others++;
    if (got.drumRpm !== null) {
      falseSpeeds++;
      console.log("false speed", kind, seed, got.drumRpm.value.toFixed(0), got.notes.join(","));
    }
  }
}
console.log(`false speeds ${falseSpeeds} of ${others}`);
