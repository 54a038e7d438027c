// What must not change an answer: the same machine recorded louder, later, through another microphone,
// upside down, in another container. Relations between answers need no outside value (metamorphic testing).
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { diagnoseRecordings } from "../../src/answer/diagnose-recordings.js";
import type { Answer } from "../../src/answer/answer.js";
import { loadClip } from "../../src/batch/load-clip.js";
import { washerById } from "../../src/machine/washers.js";
import type { Phase } from "../../src/machine/words.js";
import { assessRecording } from "../../src/recording/assess.js";
import { synthesizeClip } from "../../src/synthesis/clip.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";

interface Sound {
  readonly channels: readonly Float32Array[];
  readonly sampleRateHz: number;
}

const MACHINE = "front-load-direct";

function answerTo({ channels, sampleRateHz }: Sound, phase: Phase = "spin"): Answer {
  const recording = assessRecording({
    channels,
    sampleRateHz,
    channelCount: channels.length,
    codec: "WAV, PCM",
    fileSeconds: channels[0]!.length / sampleRateHz,
    problems: [],
  });
  return diagnoseRecordings([{ file: "clip.wav", sha256: "", recording, phase }], {
    washer: washerById(MACHINE),
    machineGiven: true,
  }).answer;
}

const spin = synthesizeClip({
  seed: 2327,
  machine: MACHINE,
  phase: "spin",
  faults: ["rotor-stator"],
  durationSeconds: 9,
  faultToBackgroundDb: 10,
  drumRpm: 900,
  phone: { noiseSuppressionDb: 0, gainControl: null, clippingDb: null },
});
const { sampleRateHz } = spin;
const plain: Sound = { channels: [spin.samples], sampleRateHz };
const mapped = (change: (value: number, i: number) => number): Sound => ({
  channels: [spin.samples.map(change)],
  sampleRateHz,
});

// First-order shelf: treble raised or lowered by a few decibels from about 1 kHz on.
function tilted(db: number): Sound {
  const k = Math.exp((-2 * Math.PI * 1000) / sampleRateHz);
  const gain = 10 ** (db / 20);
  let low = 0;
  return mapped((value) => {
    low = k * low + (1 - k) * value;
    return 0.5 * (low + gain * (value - low));
  });
}

let base: Answer;

beforeAll(() => {
  base = answerTo(plain);
});

const chances = (answer: Answer): Map<string, number> =>
  new Map(answer.components.map(({ component, probability }) => [component, probability]));

/** Largest change of any part's chance. */
function largestShift(answer: Answer): number {
  const before = chances(base);
  const shifts = [...chances(answer)].map(([component, p]) => Math.abs(p - before.get(component)!));
  return Math.max(...shifts);
}

function expectSame(answer: Answer, shift: number): void {
  expect(answer.components[0]!.component).toBe(base.components[0]!.component);
  expect(answer.character.label).toBe(base.character.label);
  expect(largestShift(answer)).toBeLessThan(shift);
  expect(answer.speed.drumRpm!.value / base.speed.drumRpm!.value).toBeCloseTo(1, 2);
}

describe("the answer to one spin", () => {
  it("finds the fault and the speed that were made, so that the relations below say something", () => {
    expect(base.components.slice(0, 2).map(({ component }) => component)).toContain("rotor-stator");
    const typical = spin.truth.drumRpm!.typical!;
    expect(Math.abs(base.speed.drumRpm!.value / typical - 1)).toBeLessThan(0.01);
  });

  it("does not change with gain or polarity", () => {
    expectSame(answerTo(mapped((value) => -0.11 * value)), 0.02);
  });

  it("keeps the speed and the true part in front under another microphone's colour", () => {
    for (const db of [-4, 4]) {
      const answer = answerTo(tilted(db));
      const leading = answer.components.slice(0, 2).map(({ component }) => component);
      expect(leading).toContain("rotor-stator");
      expect(answer.speed.drumRpm!.value / base.speed.drumRpm!.value).toBeCloseTo(1, 2);
    }
  });

  it("hardly changes when the recording starts later", () => {
    const cut = Math.round(0.83 * sampleRateHz);
    expectSame(answerTo({ channels: [spin.samples.slice(cut)], sampleRateHz }), 0.2);
  });

  it("hardly changes when silence follows", () => {
    const longer = new Float32Array(spin.samples.length + 3 * sampleRateHz);
    longer.set(spin.samples);
    expectSame(answerTo({ channels: [longer], sampleRateHz }), 0.4);
  });

  it("is the same in one channel and in two", () => {
    expectSame(answerTo({ channels: [spin.samples, spin.samples.slice()], sampleRateHz }), 0.02);
  });

  it("moves its speed, and hardly anything else, when the recorder's clock is 2 % fast", () => {
    const answer = answerTo({ channels: [spin.samples], sampleRateHz: sampleRateHz * 1.02 });
    expect(answer.speed.drumRpm!.value / base.speed.drumRpm!.value).toBeCloseTo(1.02, 2);
    expect(answer.components[0]!.component).toBe(base.components[0]!.component);
    // Two words for one sound may lie close together; neither may jump.
    for (const [word, score] of Object.entries(base.character.scores)) {
      const now = answer.character.scores[word as keyof typeof answer.character.scores];
      expect(Math.abs(now - score)).toBeLessThan(0.2);
    }
  });
});

describe("the mains", () => {
  it("of 50 and of 60 Hz give the same part, each with its own hum", () => {
    for (const lineHz of [50, 60] as const) {
      const { samples, sampleRateHz: rate } = synthesizeClip({
        seed: 2202,
        machine: MACHINE,
        phase: "drain",
        faults: ["drain-pump"],
        durationSeconds: 8,
        faultToBackgroundDb: 10,
        lineHz,
      });
      const answer = answerTo({ channels: [samples], sampleRateHz: rate }, "drain");
      expect(answer.speed.lineHz).toBe(lineHz);
      expect(answer.components[0]!.component).toBe("drain-pump");
    }
  });
});

const hasFfmpeg = (() => {
  try {
    execFileSync("ffmpeg", ["-version"], { stdio: "ignore" });
    return true;
  } catch {
    process.stderr.write("\n*** ffmpeg is missing: the codec round trip is NOT tested ***\n");
    return false;
  }
})();

describe.runIf(hasFfmpeg)("a phone's codec", () => {
  const folder = mkdtempSync(join(tmpdir(), "washer-noise-codec-"));
  afterAll(() => rmSync(folder, { recursive: true }));

  it("hardly changes the answer", async () => {
    const wav = join(folder, "spin.wav");
    writeFileSync(wav, wavBytes(spin.samples, sampleRateHz));
    const m4a = join(folder, "spin.m4a");
    execFileSync("ffmpeg", ["-v", "error", "-i", wav, "-c:a", "aac", "-b:a", "96k", m4a]);
    const clip = await loadClip(m4a);
    const { answer } = diagnoseRecordings([{ ...clip, phase: "spin" }], {
      washer: washerById(MACHINE),
      machineGiven: true,
    });
    expectSame(answer, 0.2);
  });
});
