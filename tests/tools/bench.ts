/* eslint-disable no-console */
// Cost of the whole diagnosis against its floor, in one run:
//   npm run bench
// Floor: decoding the file, and one 4096/1024 spectrogram of the mono sound with the same FFT. The file is
// 60 s, 48 kHz, stereo, AAC, made with ffmpeg from the first simulator. CPU seconds of this process.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { diagnose } from "../../src/diagnosis/diagnose.js";
import { gatherEvidence } from "../../src/evidence/gather.js";
import { listen } from "../../src/evidence/listen.js";
import { washerById } from "../../src/machine/washers.js";
import { assessRecording } from "../../src/recording/assess.js";
import { readSoundFile } from "../../src/recording/files/read-sound-file.js";
import { resample } from "../../src/signal/resample.js";
import { spectrogram } from "../../src/signal/spectrum.js";
import { estimateSpeed } from "../../src/speed/estimate-speed.js";
import { synthesizeClip } from "../../src/synthesis/clip.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";

const folder = mkdtempSync(join(tmpdir(), "washer-noise-bench-"));
const wav = join(folder, "clip.wav");
const m4a = join(folder, "clip.m4a");
const clip = synthesizeClip({
  seed: 60,
  machine: "front-load-belt-universal",
  phase: "spin",
  faults: ["drum-bearing"],
  durationSeconds: 60,
});
writeFileSync(wav, wavBytes(clip.samples, clip.sampleRateHz));
const made = spawnSync("ffmpeg", [
  "-v",
  "error",
  "-i",
  wav,
  "-ar",
  "48000",
  "-ac",
  "2",
  "-c:a",
  "aac",
  "-b:a",
  "128k",
  m4a,
]);
if (made.status !== 0) {
  console.log("bench: ffmpeg is missing; it makes the m4a file that the benchmark reads");
  process.exit(2);
}

function cpuSeconds(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}
const shares = new Map<string, number>();
async function timed<T>(name: string, work: () => T | Promise<T>): Promise<T> {
  const before = cpuSeconds();
  const result = await work();
  shares.set(name, (shares.get(name) ?? 0) + cpuSeconds() - before);
  return result;
}

async function round(): Promise<void> {
  const washer = washerById("unknown");
  const sound = await timed("decode", () => readSoundFile(m4a));
  await timed("one spectrogram (floor)", () => {
    const mono = Float64Array.from(sound.channels[0]!);
    spectrogram(mono, sound.sampleRateHz, { length: 4096, hop: 1024 });
  });
  const recording = await timed("quality", () => assessRecording(sound));
  const low = await timed("resample", () =>
    resample(recording.samples, recording.sampleRateHz, 16_000),
  );
  const speed = await timed("speed", () =>
    estimateSpeed(low, 16_000, {
      washer,
      phase: "unknown",
      bandHz: recording.bandHz,
      usable: recording.usable,
    }),
  );
  const context = listen(recording, washer, speed, "unknown", low);
  const evidence = await timed("evidence", () => gatherEvidence(context));
  await timed("diagnosis", () =>
    diagnose({
      clips: [{ recording, evidence }],
      washer,
      circumstances: {},
      told: { machine: false, phase: false, speed: false },
    }),
  );
}

await round(); // warm up, as every later file of a batch finds it
shares.clear();
const ROUNDS = 3;
for (let i = 0; i < ROUNDS; i++) await round();
rmSync(folder, { recursive: true });
const of = (name: string): number => (shares.get(name) ?? 0) / ROUNDS;
const floor = of("decode") + of("one spectrogram (floor)");
const whole =
  [...shares.keys()].reduce((sum, name) => sum + of(name), 0) - of("one spectrogram (floor)");
for (const name of shares.keys()) console.log(`${name.padEnd(26)} ${of(name).toFixed(3)} s`);
console.log(`${"whole diagnosis".padEnd(26)} ${whole.toFixed(3)} s`);
console.log(`${"floor".padEnd(26)} ${floor.toFixed(3)} s`);
console.log(`${"ratio".padEnd(26)} ${(whole / floor).toFixed(2)}`);
