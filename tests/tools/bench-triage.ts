/* eslint-disable no-console */
// Throughput and memory of `triage`:
//   npm run build && npm run bench:triage            200 clips by one and by two workers, then 1000 against 100
//   npm run bench:triage -- 40 0                     fewer clips and no long run, for a quick look
// Clips are synthesized once into the system's folder for temporary files. Each run is a process of its own.
// Wall time means little while other programs use the cores: the load before each run is printed.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { readSoundFile } from "../../src/recording/files/read-sound-file.js";
import { spectrogram } from "../../src/signal/spectrum.js";
import { drawRequests } from "../../src/synthesis/draw-request.js";
import { synthesizeClip } from "../../src/synthesis/clip.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";

const all = Number(process.argv[2] ?? 200);
/** Size of the run that is set against a tenth of it; starting up weighs too much on fewer than 100 clips. */
const long = Number(process.argv[3] ?? 1000);
const SECONDS = 10;
const main = resolve("dist/cli/main.js");
const cache = join(tmpdir(), `washer-noise-bench-triage-${SECONDS}s`);

function makeClips(): string[] {
  mkdirSync(cache, { recursive: true });
  const requests = drawRequests(606, all);
  return requests.map((request, i) => {
    const path = join(cache, `clip-${String(i).padStart(4, "0")}.wav`);
    if (!existsSync(path)) {
      const clip = synthesizeClip({ ...request, durationSeconds: SECONDS });
      writeFileSync(path, wavBytes(clip.samples, clip.sampleRateHz));
    }
    return path;
  });
}

/** More recordings than were made: the same ones, each time with one sample moved by one step. */
function manyClips(made: readonly string[], count: number): string[] {
  return Array.from({ length: count }, (_, i) => {
    const source = made[i % made.length]!;
    const round = Math.floor(i / made.length);
    if (round === 0) return source;
    const path = source.replace(/\.wav$/, `-again-${round}.wav`);
    if (!existsSync(path)) {
      const bytes = readFileSync(source);
      bytes.writeInt16LE(round, bytes.length - 2);
      writeFileSync(path, bytes);
    }
    return path;
  });
}

interface Cost {
  readonly seconds: number;
  readonly cpuSeconds: number;
  readonly peakMegabytes: number;
}

// Asks the operating system for the peak of the child alone.
const WRAPPER = `
import { resourceUsage } from "node:process";
process.argv = [process.argv[0], ...JSON.parse(process.env.BENCH_ARGS)];
process.on("exit", () => {
  const { maxRSS, userCPUTime, systemCPUTime } = resourceUsage();
  process.stderr.write("BENCH " + JSON.stringify([maxRSS / 1024, (userCPUTime + systemCPUTime) / 1e6]) + "\\n");
});
await import(process.env.BENCH_MAIN);`;

function run(files: readonly string[], workers: number): Cost {
  const folder = mkdtempSync(join(tmpdir(), "washer-noise-bench-run-"));
  const work = join(folder, "work.ndjson");
  const args = [main, "triage", ...files, "--workers", String(workers), "--work", work, "--csv"];
  const started = performance.now();
  const { status, stderr } = spawnSync(process.execPath, ["--input-type=module", "-e", WRAPPER], {
    encoding: "utf8",
    maxBuffer: 1 << 28,
    env: { ...process.env, BENCH_ARGS: JSON.stringify(args), BENCH_MAIN: main },
  });
  const seconds = (performance.now() - started) / 1000;
  rmSync(folder, { recursive: true });
  const found = /BENCH \[([\d.]+),([\d.]+)\]/.exec(stderr);
  if (status !== 0 || !found) throw new Error(`triage ended with ${String(status)}: ${stderr}`);
  return { seconds, cpuSeconds: Number(found[2]), peakMegabytes: Number(found[1]) };
}

function show(name: string, files: readonly string[], workers: number): Cost {
  const load = loadavg()[0]!.toFixed(1);
  const cost = run(files, workers);
  const { seconds, cpuSeconds, peakMegabytes } = cost;
  console.log(
    `| ${name} | ${files.length} | ${workers} | ${seconds.toFixed(1)} | ${cpuSeconds.toFixed(1)} | ${(files.length / seconds).toFixed(2)} | ${peakMegabytes.toFixed(0)} | ${load} |`,
  );
  return cost;
}

/** Decoding and one 4096/1024 spectrogram, the least any analysis needs: CPU seconds a clip. */
async function floorSeconds(files: readonly string[]): Promise<number> {
  const listen = async (path: string): Promise<void> => {
    const sound = await readSoundFile(path);
    spectrogram(Float64Array.from(sound.channels[0]!), sound.sampleRateHz, {
      length: 4096,
      hop: 1024,
    });
  };
  for (const path of files.slice(0, 5)) await listen(path);
  const before = process.cpuUsage();
  for (const path of files) await listen(path);
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6 / files.length;
}

function scipySeconds(files: readonly string[]): number | null {
  const script = resolve("tests/tools/scipy-spectrograms.py");
  const { status, stdout } = spawnSync("python3", [script, ...files], { encoding: "utf8" });
  if (status === 0) return Number(stdout) / files.length;
  console.log("LOUD: scipy is missing or failed; the comparison with it was not made");
  return null;
}

const files = makeClips();
console.log(
  `Node ${process.version}, ${cpus().length} x ${cpus()[0]!.model}, clips of ${SECONDS} s`,
);
console.log("| run | clips | workers | seconds | CPU s | clips/s | peak MB | load before |");
console.log("| --- | --- | --- | --- | --- | --- | --- | --- |");
const one = show("one worker", files, 1);
const two = show("two workers", files, 2);
console.log(`two workers against one: ${(one.seconds / two.seconds).toFixed(2)} times`);
if (long > 0) {
  const many = manyClips(files, long);
  const few = show("a tenth of the long run", many.slice(0, Math.floor(long / 10)), 2);
  const whole = show("long run", many, 2);
  console.log(
    `ten times the clips: ${(whole.seconds / few.seconds).toFixed(2)} times the time, ${(whole.peakMegabytes - few.peakMegabytes).toFixed(0)} MB more`,
  );
}
const tenth = files.slice(0, Math.max(1, Math.floor(all / 10)));
const floor = await floorSeconds(tenth);
const each = one.cpuSeconds / files.length;
console.log(
  `CPU a clip ${each.toFixed(3)} s; floor ${floor.toFixed(3)} s; ratio ${(each / floor).toFixed(1)}`,
);
const scipy = scipySeconds(tenth);
if (scipy !== null) {
  console.log(
    `scipy, the same decoding and spectrogram: ${scipy.toFixed(3)} s CPU a clip; floor / scipy ${(floor / scipy).toFixed(2)}`,
  );
}
