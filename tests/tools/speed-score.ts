/* eslint-disable no-console */
// Scores the speed estimate on the clips of tests/speed. Compile with tsc and run with node:
//   npx tsc -p tsconfig.json --noEmit false --outDir /tmp/speed && ln -sfn $PWD/node_modules /tmp/speed/node_modules
//   cp package.json /tmp/speed && node /tmp/speed/tests/tools/speed-score.js [clips per cell] [seconds] [machine|family|unknown] [print]
import { washerById } from "../../src/machine/washers.js";
import { estimateSpeed } from "../../src/speed/estimate-speed.js";
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

for (const motion of ["plateau", "ramp", "coast", "steps"] as Motion[]) {
  for (const drive of ["belt", "direct", "top-induction"] as Drive[]) {
    for (const toneDb of [0, -9]) {
      for (let seed = first; seed < first + clips; seed++) {
        const c = spinCase(motion, drive, seconds, toneDb, seed);
        const sound = spinSound(c.sound);
        const name = naming === "machine" ? c.machine : naming === "family" ? c.family : naming;
        const typical = typicalOf(c);
        const before = process.cpuUsage();
        const got = estimateSpeed(sound, 16_000, {
          washer: washerById(name),
          phase: motion === "coast" ? "coast" : "spin",
          bandHz: [0.7 * c.sound.highPassHz!, 7500],
          ...(told ? { toldDrumRpm: Math.round((typical * 60) / 50) * 50 } : {}),
        });
        const used = process.cpuUsage(before);
        cpu += (used.user + used.system) / 1e6;
        // A track's parts may be cut off at the ends: compare with the truth over the same frames.
        const errors = got.track
          .filter((p) => p.drumRpm !== null)
          .map((p) => Math.log(p.drumRpm! / 60 / c.sound.drumHzAt(p.timeSeconds)));
        const bad = errors.filter((e) => Math.abs(e) > 0.02).length / Math.max(1, errors.length);
        const sorted = [...errors].sort((a, b) => a - b);
        const trackMedian = sorted[sorted.length >> 1] ?? 0;
        const error = got.drumRpm
          ? motion === "plateau" || motion === "steps"
            ? Math.log(got.drumRpm.value / 60 / typical)
            : trackMedian
          : null;
        const covered =
          got.drumRpm !== null &&
          Math.abs(error!) <= Math.log(got.drumRpm.high / got.drumRpm.value) + 1e-9;
        for (const key of [`${motion}`, `${drive}`, `${toneDb} dB`, "all"]) {
          add(key, error, covered, bad);
        }
        if (print && (error === null || Math.abs(error) > 0.01)) {
          const e = error === null ? "null" : (100 * error).toFixed(2);
          console.log(
            motion,
            drive,
            toneDb,
            seed,
            "f",
            typical.toFixed(2),
            "err%",
            e,
            "got",
            got.drumRpm?.value.toFixed(0),
            "R",
            c.sound.ratio.toFixed(2),
            got.motorToDrum?.value.toFixed(2),
            "bad",
            bad.toFixed(2),
            "depth",
            c.sound.depths[0]!.toFixed(2),
            "bg",
            c.sound.steadyDb?.toFixed(0),
            got.notes.join(","),
            "line",
            c.sound.lineHz,
            got.lineHz,
          );
        }
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
