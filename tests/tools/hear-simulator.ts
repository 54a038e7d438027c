// Makes recordings with a simulator, listens to them and writes one line a recording: truth, evidence
// (features only) and the answer's summary. The lines feed score-lines and tune-weights.
//   npm run build:tools && node .tools/tests/tools/hear-simulator.js OUT.ndjson COUNT SEED \
//     [told|untold] [normalShare] [otherShare] [first|second|third|fourth] [poor]
// With poor every second recording is cut to 5 s and the rest come as a narrow voice call brings them: 8 kHz.
import { appendFileSync, writeFileSync } from "node:fs";
import { diagnoseRecordings } from "../../src/answer/diagnose-recordings.js";
import { washerById } from "../../src/machine/washers.js";
import type { Phase } from "../../src/machine/words.js";
import { median } from "../../src/foundation/statistics.js";
import { assessRecording } from "../../src/recording/assess.js";
import { resample } from "../../src/signal/resample.js";
import { synthesizeClip, type SyntheticClip } from "../../src/synthesis/clip.js";
import { drawRequests } from "../../src/synthesis/draw-request.js";
import { drawClip as drawDrawnClip } from "../drawn-sounds/clip.js";
import { drawClip as drawPlainClip } from "../plain-recipes/clip.js";
import { drawClip } from "../second-simulator/clip.js";

const [
  out = "",
  countText = "50",
  seedText = "1",
  told = "told",
  normalText,
  otherText,
  simulator = "first",
  carrier = "good",
] = process.argv.slice(2);
const count = Number(countText);
const normalShare = Number(normalText ?? 0.2);
const otherShare = Number(otherText ?? 0.05);
writeFileSync(out, "");
const seed = Number(seedText);

type Made = Pick<SyntheticClip, "samples" | "sampleRateHz" | "truth">;

function* clips(): Generator<Made> {
  const draw = { second: drawClip, third: drawPlainClip, fourth: drawDrawnClip }[simulator];
  if (draw) {
    for (let k = 0; k < count; k++)
      yield draw(seed + k, { normalShare, notWasherShare: otherShare });
    return;
  }
  for (const request of drawRequests(seed, count, { normalShare, otherShare })) {
    yield synthesizeClip(request);
  }
}

const SHORT_SECONDS = 5;
const CALL_RATE_HZ = 8000;

/** The recordings as they are or, when poor ones are asked for, in turn too short and through a voice call. */
function* carried(): Generator<Made> {
  let index = 0;
  for (const made of clips()) {
    const { samples, sampleRateHz } = made;
    if (carrier !== "poor") yield made;
    else if (index++ % 2 === 0) {
      const kept = SHORT_SECONDS * sampleRateHz;
      const start = Math.max(0, Math.floor((samples.length - kept) / 2));
      yield { ...made, samples: samples.slice(start, start + kept) };
    } else {
      const call = Float32Array.from(resample(samples, sampleRateHz, CALL_RATE_HZ));
      const truth = { ...made.truth, codec: "AMR-NB" } as Made["truth"];
      yield { samples: call, sampleRateHz: CALL_RATE_HZ, truth };
    }
  }
}

/** Middle error of the speed track against the true one, where both are known: |ln|, and in how many frames. */
function trackError(
  track: readonly { readonly timeSeconds: number; readonly drumRpm: number | null }[],
  truth: NonNullable<Made["truth"]["drumRpm"]>["track"],
): { median: number; frames: number } | null {
  const errors = (truth ?? []).flatMap(({ timeSeconds, rpm }) => {
    const near = track.find((point) => Math.abs(point.timeSeconds - timeSeconds) <= 0.26);
    return rpm && near?.drumRpm ? [Math.abs(Math.log(near.drumRpm / rpm))] : [];
  });
  return errors.length === 0 ? null : { median: median(errors), frames: errors.length };
}

for (const { samples, sampleRateHz, truth } of carried()) {
  const recording = assessRecording({
    channels: [samples],
    sampleRateHz,
    channelCount: 1,
    codec: truth.codec ?? "WAV, PCM",
    fileSeconds: samples.length / sampleRateHz,
    problems: [],
  });
  const known = told === "told" && truth.washer;
  const started = process.cpuUsage();
  const { answer, figures } = diagnoseRecordings(
    [
      {
        file: truth.file,
        sha256: "",
        recording,
        phase: known ? ((truth.phase ?? "unknown") as Phase) : "unknown",
      },
    ],
    { washer: washerById(known ? truth.machine! : "unknown"), machineGiven: known },
  );
  const used = process.cpuUsage(started);
  const line = {
    truth: { ...truth, drumRpm: { typical: truth.drumRpm?.typical ?? null } },
    told: known,
    quality: recording.quality,
    problems: recording.problems.map((problem) => problem.code),
    blocked: recording.problems.some((problem) => problem.severity === "blocks"),
    limited: recording.problems.some((problem) => problem.severity === "limits"),
    seconds: recording.durationSeconds,
    trackError: trackError(answer.speed.track, truth.drumRpm?.track),
    phase: figures[0]!.phase,
    features: figures[0]!.features,
    answer: {
      verdict: answer.verdict.label,
      character: answer.character.label,
      scores: answer.character.scores,
      components: answer.components.map(({ component, probability }) => ({
        component,
        probability,
      })),
      drumRpm: answer.speed.drumRpm,
      notes: answer.speed.notes,
    },
    cpuSeconds: (used.user + used.system) / 1e6,
  };
  appendFileSync(out, `${JSON.stringify(line)}\n`);
}
