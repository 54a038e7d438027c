import type { Job } from "../../src/inspection/job/job.js";
import { emptyJob, jobText } from "../../src/inspection/job/job.js";

const job: Job = {
  ...emptyJob(),
  machine: { id: "front-load-belt-universal", label: "laundry, left", ageYears: 9, lineHz: 50 },
  complaint: { text: "It roars in the spin.", answers: { "since-when": "two weeks", worse: true } },
  recordings: [
    { file: "clips/spin.m4a", sha256: "0f".repeat(32), phase: "spin", durationSeconds: 31.25 },
  ],
  diagnosis: {
    at: "2026-03-01T09:30:00Z",
    verdict: { label: "shortlist", text: "Two parts are likely." },
    character: "grinding",
    components: [
      { component: "drum-bearing", probability: 0.5 },
      { component: "drum-spider", probability: 0.2 },
      { component: "motor-brushes", probability: 0.1 },
      { component: "other", probability: 0.1 },
      { component: "normal", probability: 0.1 },
    ],
  },
  findings: [{ check: "drum-rock", outcome: "fail", at: "2026-03-01T10:00:00Z", note: "3 mm" }],
};

const frontLoader = {
  schema: "washer-noise/machine@1",
  name: "ground-floor laundry",
  like: "front-load-belt-universal",
  spinRpm: { low: 1100, typical: 1200, high: 1250 },
  tumbleRpm: 50,
  lineHz: 50,
  belt: { motorPulleyMm: 22.5, drumPulleyMm: 270, lengthMm: 1230, section: "J", ribs: 5 },
  drumBearings: ["6206", { outer: 3.6, inner: 5.4, cage: 0.4 }],
  motorBearings: [{ balls: 8, ballMm: 5.953, pitchMm: 25 }],
  motor: { slots: 12, bars: 24 },
  lifters: 3,
};

const topLoader = {
  like: "top-load-belt",
  spinRpm: 640,
  strokesPerMinute: { low: 60, typical: 68, high: 90 },
  gears: { sun: 18, planet: 27, ring: 72, planets: 3 },
  pumpVanes: 6,
};

const intake = `ticket;file;machine;phase;age;drum_rpm;line_hz;complaint;town
A-1;spin.m4a;front-load-belt-universal;spin;9;1200;50;"roars; worse when ""full""";Ferry
A-2;clips/wash.ogg;top-load;wash;4;;60;squeaks;"Two
lines"
A-3;drain.wav;;drain;;;;hums;=1+1
`;

const pretty = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

/** Texts that users write, whole and right. */
export const TEXT_SEEDS = Object.freeze({
  machine: [pretty(frontLoader), pretty(topLoader)],
  job: [jobText(job), jobText(emptyJob())],
  intake: [intake, intake.replaceAll(";", ",")],
});

export type TextKind = keyof typeof TEXT_SEEDS;
