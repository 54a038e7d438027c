import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { diagnoseRecordings } from "../../src/answer/diagnose-recordings.js";
import { matchIntake } from "../../src/batch/intake/match-intake.js";
import { parseIntake } from "../../src/batch/intake/intake-sheet.js";
import { loadWasher } from "../../src/batch/load-washer.js";
import { WasherNoiseError } from "../../src/foundation/errors.js";
import { parseJobText } from "../../src/inspection/job/parse-job.js";
import { jobText } from "../../src/inspection/job/job.js";
import { nextStep } from "../../src/inspection/next-step/next-step.js";
import { expectedLines } from "../../src/machine/expected-lines.js";
import { washerById } from "../../src/machine/washers.js";
import { assessRecording } from "../../src/recording/assess.js";
import { bytesSource } from "../../src/recording/decode/byte-source.js";
import { decodeAudio } from "../../src/recording/decode/decode-audio.js";
import { readSoundFile } from "../../src/recording/files/read-sound-file.js";
import type { DecodedAudio } from "../../src/recording/recording.js";
import { nextCheckText } from "../../src/report/next-check-text.js";
import type { FuzzCase } from "./make-case.js";

/** How far a sound is taken: decoded in memory, read as a file with ffmpeg at hand, or diagnosed too. */
export interface Depth {
  readonly throughFile: boolean;
  readonly diagnosed: boolean;
  /** A folder of this process alone. */
  readonly folder: string;
}

/** What came of a case: "answer", or the code of the typed error. Throws where the program broke its word. */
export async function judgeCase(fuzzCase: FuzzCase, depth: Depth): Promise<string> {
  try {
    if (fuzzCase.kind === "sound") await judgeSound(fuzzCase.bytes, depth);
    else if (fuzzCase.kind === "machine") await judgeMachine(fuzzCase.bytes, depth.folder);
    else if (fuzzCase.kind === "job") judgeJob(fuzzCase.bytes);
    else judgeIntake(fuzzCase.bytes);
    return "answer";
  } catch (error) {
    if (!(error instanceof WasherNoiseError)) throw error;
    checkError(error);
    return error.code;
  }
}

function demand(holds: boolean, what: string): void {
  if (!holds) throw new Error(`broken word: ${what}`);
}

function checkError({ code, message }: WasherNoiseError): void {
  demand(code !== "internal", `an internal failure (${message})`);
  demand(!message.includes("\n"), `a message of several lines (${JSON.stringify(message)})`);
  demand(message.length <= 2000, `a message of ${message.length} characters`);
}

async function judgeSound(bytes: Uint8Array, depth: Depth): Promise<void> {
  const path = join(depth.folder, "case");
  let decoded: DecodedAudio;
  if (depth.throughFile) {
    writeFileSync(path, bytes);
    decoded = await readSoundFile(path, { ffmpegSeconds: 3 });
  } else decoded = await decodeAudio(bytesSource(bytes, path));
  checkDecoded(decoded);
  const recording = assessRecording(decoded);
  demand(recording.samples.every(Number.isFinite), "samples that are no numbers");
  demand(
    recording.usable.every((one) => one.endSeconds > one.startSeconds),
    "an empty stretch",
  );
  if (!depth.diagnosed) return;
  const clip = { file: path, sha256: "0".repeat(64), recording, phase: "unknown" } as const;
  const washer = washerById("unknown");
  const { answer } = diagnoseRecordings([clip], { washer, machineGiven: false });
  const sum = answer.components.reduce((total, { probability }) => total + probability, 0);
  demand(Math.abs(sum - 1) < 1e-6, `probabilities that sum to ${sum}`);
  const blocked = recording.problems.some(({ severity }) => severity === "blocks");
  const { label } = answer.verdict;
  demand(!blocked || label === "record-again", `the verdict ${label} from a blocked recording`);
}

function checkDecoded({ channels, sampleRateHz, fileSeconds, problems }: DecodedAudio): void {
  demand(channels.length === 1 || channels.length === 2, `${channels.length} channels kept`);
  const frames = channels[0]!.length;
  demand(frames > 0, "no samples and no error");
  demand(
    channels.every((one) => one.length === frames),
    "channels of different length",
  );
  demand(
    channels.every((one) => one.every(Number.isFinite)),
    "samples that are no numbers",
  );
  demand(sampleRateHz >= 2000 && sampleRateHz <= 48_000, `a rate of ${sampleRateHz}`);
  demand(fileSeconds > 0 && Number.isFinite(fileSeconds), `a length of ${fileSeconds}`);
  demand(
    problems.every(({ message }) => !message.includes("\n")),
    "a problem of several lines",
  );
}

async function judgeMachine(bytes: Uint8Array, folder: string): Promise<void> {
  const path = join(folder, "machine.json");
  writeFileSync(path, bytes);
  const washer = await loadWasher(path);
  const lines = expectedLines(washer, {
    drumRpm: 1000,
    motorRpm: null,
    lineHz: null,
    phase: "spin",
  });
  demand(
    lines.every(({ hz }) => hz === null || Number.isFinite(hz)),
    "a line at no frequency",
  );
}

function judgeJob(bytes: Uint8Array): void {
  const job = parseJobText(new TextDecoder().decode(bytes), "job.json");
  const again = parseJobText(jobText(job), "job.json");
  demand(jobText(again) === jobText(job), "a job that is read back otherwise than written");
  const step = nextStep(job, washerById(job.machine.id ?? "unknown"));
  const screen = nextCheckText(step, { color: false, width: 80, job: "job.json" });
  // eslint-disable-next-line no-control-regex
  demand(!/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/.test(screen), "control characters on screen");
}

function judgeIntake(bytes: Uint8Array): void {
  const sheet = parseIntake(bytes, "intake.csv");
  const names = ["spin.m4a", "clips/wash.ogg", "drain.wav"];
  matchIntake(
    names.map((name) => ({ path: `/in/${name}`, name })),
    sheet,
  );
}
