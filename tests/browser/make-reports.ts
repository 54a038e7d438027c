import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { comparisonPictures } from "../../src/answer/compare-pictures.js";
import { compareHeard, hearPair } from "../../src/answer/compare-recordings.js";
import { diagnoseRecordings } from "../../src/answer/diagnose-recordings.js";
import { checkOutlooks } from "../../src/answer/check-outlook.js";
import { encodeClips, encodeSounds } from "../../src/answer/encode-clips.js";
import type { LoadedClip } from "../../src/batch/load-clip.js";
import type { TriageSummary } from "../../src/answer/triage-summary.js";
import type { Pair } from "../../src/evaluation/pair.js";
import { evaluatePairs } from "../../src/evaluation/scores.js";
import { emptyJob, type Job } from "../../src/inspection/job/job.js";
import { addFinding } from "../../src/inspection/next-step/job-findings.js";
import { nextStep } from "../../src/inspection/next-step/next-step.js";
import { visitOfJob } from "../../src/inspection/parts/visit-of-job.js";
import { washerById } from "../../src/machine/washers.js";
import type { MachineId, Phase } from "../../src/machine/words.js";
import { comparisonPage } from "../../src/report/html/comparison-page.js";
import { assessRecording } from "../../src/recording/assess.js";
import { readSoundFile } from "../../src/recording/files/read-sound-file.js";
import { diagnosisPage } from "../../src/report/html/diagnosis-page.js";
import { nextCheckPage } from "../../src/report/html/next-check-page.js";
import { evaluationPage } from "../../src/report/html/evaluation-page.js";
import { triagePage } from "../../src/report/html/triage-page.js";
import { root } from "../project-root.js";

const samples = join(root, "samples-synthetic/");

/** The first seconds of a sample: enough to draw, to play and to tabulate, whatever is heard in it. */
async function loadStart(path: string, seconds: number): Promise<LoadedClip> {
  const { sha256, channels, ...sound } = await readSoundFile(path);
  const recording = assessRecording({
    ...sound,
    channels: channels.map((one) => one.subarray(0, seconds * sound.sampleRateHz)),
    fileSeconds: seconds,
  });
  return { file: path, sha256, recording };
}

/** A right-to-left override and Hebrew letters around markup, quotes and a closing tag. */
export const HOSTILE_FILE = `"><script>window.ran=1</script> '\u202E\u05E9\u05DC\u05D5\u05DD'.m4a`;
export const HOSTILE_COMPLAINT = `</style></title><img src=x onerror="window.ran=1"> 'it' "screams" \u200F\u2067&amp;`;

interface Sample {
  readonly name: string;
  readonly phase: Phase;
  readonly seconds: number;
  readonly shownAs?: string;
}

async function diagnosed(machine: MachineId, list: readonly Sample[], complaint?: string) {
  const clips = await Promise.all(
    list.map(async ({ name, phase, seconds, shownAs }) => {
      const clip = await loadStart(join(samples, name), seconds);
      return { ...clip, file: shownAs ?? name, phase };
    }),
  );
  const { answer, figures, pictures } = diagnoseRecordings(clips, {
    washer: washerById(machine),
    machineGiven: machine !== "unknown",
    pictures: "with-clips",
  });
  const told = complaint === undefined ? {} : { complaint };
  return diagnosisPage({
    answer,
    figures,
    pictures: pictures!,
    clips: await encodeClips(pictures!),
    ...told,
  });
}

const PARTS = [
  "drum-bearing",
  "drain-pump",
  "normal",
  "suspension",
  "drive-belt",
  "motor-brushes",
  "gear-case",
];

/** Answers of which some are wrong, as an evaluation would meet them. */
function pairs(): Pair[] {
  return Array.from({ length: 70 }, (_, i) => {
    const truth = PARTS[i % PARTS.length]!;
    const said = i % 3 === 0 ? PARTS[(i * 5 + 1) % PARTS.length]! : truth;
    return {
      truth: {
        schema: "washer-noise/truth@1",
        file: `${i}.wav`,
        washer: true,
        machine: "front-load",
        phase: "spin",
        faults: truth === "normal" ? [] : [truth],
        character: "grinding",
      },
      answer: {
        verdict: i % 11 === 0 ? "record-again" : "likely",
        character: i % 4 === 0 ? "humming" : "grinding",
        components: [
          { component: said, probability: 0.4 + 0.008 * i },
          { component: "other", probability: 0.6 - 0.008 * i },
        ],
        drumRpm: null,
      },
    };
  });
}

/** A plan after one finding, everything told in it hostile. */
function planned(): string {
  const washer = washerById("front-load-belt-universal");
  const told: Job = {
    ...emptyJob(),
    machine: { ageYears: 9 },
    prices: { labourPerHour: 60, newMachine: 700, currency: `<b>"'` },
  };
  const job = addFinding(told, `drum-rock=doubt:${HOSTILE_COMPLAINT}`, "2026-03-01T09:30:00Z");
  const answer = nextStep(job, washer);
  return nextCheckPage({
    answer,
    outlooks: checkOutlooks(job, washer, answer),
    visit: visitOfJob(job, answer, washer),
    job: HOSTILE_FILE,
    complaint: HOSTILE_COMPLAINT,
  });
}

/** Two recordings of different machines, as if they were one before and after. */
async function compared(): Promise<string> {
  const names = ["demo-spin.m4a", "sat-2-weir-cottage.m4a"] as const;
  const [before, after] = await Promise.all(
    names.map(async (name) => {
      const clip = await loadStart(join(samples, name), 5);
      return { ...clip, file: HOSTILE_FILE, phase: "spin" as const };
    }),
  );
  const options = {
    washer: washerById("front-load"),
    machineGiven: true,
    pictures: "with-clips",
  } as const;
  const heard = hearPair(before!, after!, options);
  const answer = compareHeard(heard, { ...options, part: "drum-bearing" });
  const pictures = comparisonPictures(heard, options);
  const { clips } = pictures;
  return comparisonPage({
    answer,
    pictures,
    clips: { before: await encodeSounds(clips.before), after: await encodeSounds(clips.after) },
  });
}

/** A list of many recordings with hostile names, tickets and words; one of them has a page of its own. */
function listed(): string {
  const row = {
    ticket: HOSTILE_COMPLAINT,
    verdict: "likely",
    verdictText: "Most likely the drum bearing.",
    character: "grinding",
    phase: "spin",
    machine: "front-load",
    sha256: null,
    parts: [{ component: "drum-bearing", condition: "worn", probability: 0.7 }],
    problem: null,
    other: {},
  } as const;
  const action = { label: "technician", text: HOSTILE_COMPLAINT, parts: [] } as const;
  const rows: TriageSummary[] = (["stop-use", "routine"] as const).flatMap((label) =>
    Array.from({ length: 12 }, (_, i) => ({
      ...row,
      file: `inbox/${i}/${"a-long-name-without-a-blank".repeat(4)}/${label}/${HOSTILE_FILE}`,
      urgency: { label, reasons: ["the machine walks"] },
      action,
    })),
  );
  return triagePage(rows, new Map([[rows[0]!.file, "list-clips/a.html"]]));
}

export interface ReportFile {
  readonly name: string;
  readonly path: string;
  readonly source: string;
}

/** Reports of every kind, written to a folder. */
export async function makeReports(folder: string): Promise<ReportFile[]> {
  const made: readonly (readonly [string, string])[] = [
    [
      "hostile",
      await diagnosed(
        "front-load-belt-universal",
        [{ name: "demo-spin.m4a", phase: "spin", seconds: 9, shownAs: HOSTILE_FILE }],
        HOSTILE_COMPLAINT,
      ),
    ],
    [
      "two recordings",
      await diagnosed("unknown", [
        { name: "mon-2-school-kitchen.m4a", phase: "drain", seconds: 5 },
        { name: "wed-1-lock-cottage.ogg", phase: "unknown", seconds: 5 },
      ]),
    ],
    ["plan", planned()],
    ["list", listed()],
    ["comparison", await compared()],
    ["evaluation", evaluationPage(evaluatePairs(pairs()))],
  ];
  return made.map(([name, source], i) => {
    const path = join(folder, `report-${i}.html`);
    writeFileSync(path, source);
    return { name, path, source };
  });
}
