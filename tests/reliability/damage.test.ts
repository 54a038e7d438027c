import { describe, expect, it } from "vitest";
import { diagnoseRecordings } from "../../src/answer/diagnose-recordings.js";
import type { Answer } from "../../src/answer/answer.js";
import { WasherNoiseError } from "../../src/foundation/errors.js";
import { washerById } from "../../src/machine/washers.js";
import { assessRecording } from "../../src/recording/assess.js";
import { bytesSource } from "../../src/recording/decode/byte-source.js";
import { decodeAudio } from "../../src/recording/decode/decode-audio.js";
import type { Recording } from "../../src/recording/recording.js";
import { synthesizeClip } from "../../src/synthesis/clip.js";
import { buildWav, floatCodes } from "../recording/fixtures/wav-builder.js";

const clip = synthesizeClip({
  seed: 7,
  machine: "front-load-belt-universal",
  phase: "spin",
  faults: ["drum-bearing"],
  durationSeconds: 10,
});
const RATE_HZ = clip.sampleRateHz;
const clean = Array.from(clip.samples);

const floatWav = (values: readonly number[]): Uint8Array =>
  buildWav({
    tag: 3,
    bits: 32,
    channelCount: 1,
    sampleRateHz: RATE_HZ,
    data: floatCodes(values, 4),
  });

const load = async (bytes: Uint8Array): Promise<Recording> =>
  assessRecording(await decodeAudio(bytesSource(bytes, "clip.wav")));

function answerFor(recording: Recording): Answer {
  const heard = { file: "clip.wav", sha256: "0".repeat(64), recording, phase: "spin" } as const;
  const washer = washerById("front-load-belt-universal");
  return diagnoseRecordings([heard], { washer, machineGiven: true }).answer;
}

const problemsOf = ({ problems }: Recording): string[] =>
  problems.map(({ code, severity }) => `${code} ${severity}`);

/** A copy with every stretch that begins at one of `count` even places replaced. */
function changed(count: number, lengthSeconds: number, value: (old: number) => number): number[] {
  const samples = [...clean];
  const length = Math.max(1, Math.round(lengthSeconds * RATE_HZ));
  for (let n = 1; n <= count; n++) {
    const start = Math.round((n * samples.length) / (count + 1));
    for (let i = start; i < start + length; i++) samples[i] = value(samples[i]!);
  }
  return samples;
}

describe("a recording that is damaged", () => {
  it("has no problem before it is damaged, and is answered", async () => {
    const recording = await load(floatWav(clean));
    expect(problemsOf(recording).filter((one) => !one.endsWith("note"))).toEqual([]);
    expect(answerFor(recording).verdict.label).not.toBe("record-again");
  });

  it.each([
    ["one second of it", floatWav(clean.slice(0, RATE_HZ)), "too-short blocks"],
    ["nothing but zeros", floatWav(new Array<number>(5 * RATE_HZ).fill(0)), "silent blocks"],
  ])("names no part: %s", async (_, bytes, problem) => {
    const recording = await load(bytes);
    expect(problemsOf(recording)).toContain(problem);
    expect(answerFor(recording).verdict.label).toBe("record-again");
  });

  it.each([
    ["no numbers", changed(1, 0, () => NaN)],
    ["infinite", changed(1, 0, () => Infinity)],
    ["far beyond full scale", changed(3, 0, () => 1e9)],
  ])("is refused where samples are %s", async (_, samples) => {
    const error: unknown = await load(floatWav(samples)).catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(WasherNoiseError);
    expect((error as WasherNoiseError).code).toBe("recording-damaged");
  });

  it.each([
    ["runs of zeros", changed(6, 0.03, () => 0)],
    ["single samples at three times full scale", changed(6, 0, () => 3)],
  ])("says so as a limit on the answer, and leaves those places out: %s", async (_, samples) => {
    const recording = await load(floatWav(samples));
    expect(problemsOf(recording)).toContain("damaged limits");
    for (let n = 1; n <= 6; n++) {
      const at = (n * clean.length) / 7 / RATE_HZ;
      const inside = recording.usable.filter((one) => one.startSeconds < at && at < one.endSeconds);
      expect(inside).toEqual([]);
    }
  });

  it.each([1, 3])(
    "says so where %d s in the middle are zeros, and trusts the rest less",
    async (seconds) => {
      const samples = [...clean].fill(0, 4 * RATE_HZ, (4 + seconds) * RATE_HZ);
      const recording = await load(floatWav(samples));
      expect(problemsOf(recording)).toContain("damaged limits");
      const inside = recording.usable.filter(
        (one) => one.startSeconds < 4.5 && 4.5 < one.endSeconds,
      );
      expect(inside).toEqual([]);
    },
  );

  it("says that it is cut off where the header claims more than there is", async () => {
    const whole = floatWav(clean);
    const recording = await load(whole.subarray(0, Math.round(0.4 * whole.length)));
    expect(problemsOf(recording)).toContain("truncated limits");
  });
});
