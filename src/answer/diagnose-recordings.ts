import type { CharacterAnswer } from "../diagnosis/character.js";
import { diagnose, type Diagnosis } from "../diagnosis/diagnose.js";
import type { Circumstances } from "../diagnosis/prior.js";
import type { ListeningContext } from "../evidence/context.js";
import type { Evidence } from "../evidence/evidence.js";
import { gatherEvidence } from "../evidence/gather.js";
import { listen } from "../evidence/listen.js";
import { cautionsFor } from "../inspection/cautions.js";
import { nextChecksFor } from "../inspection/next-checks.js";
import type { Washer } from "../machine/profile.js";
import type { Phase } from "../machine/words.js";
import type { Recording } from "../recording/recording.js";
import { resample } from "../signal/resample.js";
import { estimateSpeed } from "../speed/estimate-speed.js";
import type { SpeedEstimate } from "../speed/speed-estimate.js";
import { SOUND_RATE_HZ } from "../evidence/context.js";
import type { Answer, AnsweredRecording, AnsweredSpeed, RecordingFigures } from "./answer.js";
import type { Pictures } from "./picture-data.js";
import { picturesOf } from "./pictures.js";

/** One recording of the machine, as loaded, and the phase told for it. */
export interface ClipToDiagnose {
  readonly file: string;
  readonly sha256: string;
  readonly recording: Recording;
  readonly phase: Phase;
}

export interface DiagnoseOptions extends Circumstances {
  readonly washer: Washer;
  /** The user named the machine. */
  readonly machineGiven: boolean;
  readonly drumRpm?: number;
  readonly motorRpm?: number;
  readonly lineHz?: 50 | 60;
  /** What a report draws and plays is worked out too. @defaultValue none */
  readonly pictures?: "silent" | "with-clips";
  /** Called before each step with a few words for a progress line. */
  readonly onStep?: (text: string) => void;
}

/** One recording, listened to. */
export interface Heard {
  readonly clip: ClipToDiagnose;
  readonly speed: SpeedEstimate;
  readonly context: ListeningContext;
  readonly evidence: Evidence;
}

/** Speed and evidence of one recording. */
export function hear(clip: ClipToDiagnose, options: DiagnoseOptions): Heard {
  const { recording, phase } = clip;
  const say = options.onStep ?? (() => undefined);
  say(`${clip.file}: finding the drum's speed ...`);
  const sound = resample(recording.samples, recording.sampleRateHz, SOUND_RATE_HZ);
  const speed = estimateSpeed(sound, SOUND_RATE_HZ, {
    washer: options.washer,
    phase,
    bandHz: recording.bandHz,
    usable: recording.usable,
    ...(options.drumRpm === undefined ? {} : { toldDrumRpm: options.drumRpm }),
    ...(options.motorRpm === undefined ? {} : { toldMotorRpm: options.motorRpm }),
    ...(options.lineHz === undefined ? {} : { toldLineHz: options.lineHz }),
  });
  say(`${clip.file}: listening for parts ...`);
  const context = listen(recording, options.washer, speed, phase, sound);
  return { clip, speed, context, evidence: gatherEvidence(context) };
}

/**
 * What is said of the speeds. A drive ratio guessed among several kinds of machine fits whichever tone is
 * near: the motor's speed then stands on nothing, and is left out.
 */
function answeredSpeed(speed: SpeedEstimate, options: DiagnoseOptions): AnsweredSpeed {
  const { drumRpm, motorRpm, lineHz, track, notes } = speed;
  const guessed =
    options.motorRpm === undefined &&
    options.washer.profiles.length > 1 &&
    notes.includes("ratio-estimated");
  if (!guessed) return { drumRpm, motorRpm, lineHz, track, notes };
  const rest = notes.filter((note) => note !== "ratio-estimated");
  return { drumRpm, motorRpm: null, lineHz, track, notes: rest };
}

function answeredRecording(
  { clip, speed, evidence }: Heard,
  { label, scores }: CharacterAnswer,
  options: DiagnoseOptions,
): AnsweredRecording {
  const { recording } = clip;
  return {
    file: clip.file,
    sha256: clip.sha256,
    durationSeconds: recording.durationSeconds,
    sampleRateHz: recording.sampleRateHz,
    channels: recording.channels,
    codec: recording.codec,
    bandHz: recording.bandHz,
    problems: recording.problems.map(({ code, message }) => ({ code, message })),
    phase: { label: evidence.phase.label, given: evidence.phase.given },
    speed: answeredSpeed(speed, options),
    character: { label, scores },
  };
}

function estimatedFacts(
  options: DiagnoseOptions,
  recordings: readonly AnsweredRecording[],
): string[] {
  const some = (is: (one: AnsweredRecording) => boolean): boolean => recordings.some(is);
  const { drumRpm, motorRpm, lineHz, ageYears, machineGiven } = options;
  const facts: readonly (readonly [fact: string, untold: boolean])[] = [
    ["kind of machine", !machineGiven],
    ["phase", some(({ phase }) => !phase.given)],
    ["drum speed", drumRpm === undefined && some(({ speed }) => speed.drumRpm !== null)],
    ["motor speed", motorRpm === undefined && some(({ speed }) => speed.motorRpm !== null)],
    ["mains frequency", lineHz === undefined && some(({ speed }) => speed.lineHz !== null)],
    ["age", ageYears === undefined],
  ];
  return facts.filter(([, untold]) => untold).map(([fact]) => fact);
}

function answerFrom(
  heard: readonly Heard[],
  diagnosis: Diagnosis,
  options: DiagnoseOptions,
): Answer {
  const recordings = heard.map((one, i) =>
    answeredRecording(one, diagnosis.characters[i]!, options),
  );
  const main = recordings[diagnosis.mainClip]!;
  const { label, scores } = diagnosis.character;
  const nextChecks = nextChecksFor(diagnosis.components, diagnosis.verdict.label);
  return {
    schema: "washer-noise/diagnosis@1",
    recordings,
    machine: { id: options.washer.id, given: options.machineGiven, label: options.washer.label },
    phase: main.phase,
    speed: main.speed,
    character: { label, scores },
    components: diagnosis.components,
    verdict: diagnosis.verdict,
    predictionSet: diagnosis.predictionSet,
    nextChecks,
    cautions: cautionsFor(diagnosis.components, diagnosis.verdict.label, nextChecks),
    estimated: estimatedFacts(options, recordings),
  };
}

const figuresOf = ({ clip, evidence }: Heard): RecordingFigures => ({
  file: clip.file,
  phase: evidence.phase,
  problems: clip.recording.problems,
  features: evidence.features,
  lines: evidence.lines,
  tones: evidence.tones,
  impacts: evidence.impacts,
});

/** The answer, the figures behind it, and what a report draws when that was asked for. */
export interface DiagnosedRecordings {
  readonly answer: Answer;
  readonly figures: readonly RecordingFigures[];
  readonly pictures?: Pictures;
}

/**
 * The main job: recordings of one machine in, the answer out.
 *
 * Steps: speed → evidence → diagnosis → next checks. Pure: no files, no clock.
 */
export function diagnoseRecordings(
  clips: readonly ClipToDiagnose[],
  options: DiagnoseOptions,
): DiagnosedRecordings {
  const heard = clips.map((clip) => hear(clip, options));
  const diagnosis = diagnose({
    clips: heard.map(({ clip, evidence }) => ({ recording: clip.recording, evidence })),
    washer: options.washer,
    circumstances: options,
    told: {
      machine: options.machineGiven,
      phase: clips.some((clip) => clip.phase !== "unknown"),
      speed: options.drumRpm !== undefined,
    },
  });
  const result = { answer: answerFrom(heard, diagnosis, options), figures: heard.map(figuresOf) };
  if (options.pictures === undefined) return result;
  options.onStep?.("Preparing the pictures ...");
  const clipsToo = options.pictures === "with-clips";
  return {
    ...result,
    pictures: picturesOf(heard, diagnosis, { clips: clipsToo, washer: options.washer }),
  };
}
