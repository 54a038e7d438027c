import { readFileSync } from "node:fs";
import { diagnosedSide, sideOf } from "../../../src/answer/compare-recordings.js";
import { hear, type ClipToDiagnose } from "../../../src/answer/diagnose-recordings.js";
import type { ComparedSide } from "../../../src/comparison/compare.js";
import type { ComparableSide } from "../../../src/comparison/comparable.js";
import type { Evidence } from "../../../src/evidence/evidence.js";
import { washerById } from "../../../src/machine/washers.js";
import { assessRecording } from "../../../src/recording/assess.js";
import type { Recording } from "../../../src/recording/recording.js";
import type { PairRecording, PairSet } from "./pair-set.js";

/** One recording of a set as it was heard: one line of a file, so that judging can be scored again. */
export interface KeptRecording extends Omit<PairSet, "recordings"> {
  /** Which generator made it. */
  readonly hand: string;
  readonly name: string;
  readonly harsh: boolean;
  readonly side: ComparableSide;
  readonly evidence: Evidence;
  /** Without its samples. */
  readonly recording: Recording;
}

/** A set whose recordings were heard, by name. */
export interface KeptSet {
  readonly set: Omit<PairSet, "recordings"> & { readonly hand: string };
  readonly sides: ReadonlyMap<string, ComparedSide & { readonly harsh: boolean }>;
}

function clipOf({ samples, sampleRateHz }: PairRecording, set: PairSet): ClipToDiagnose {
  const recording = assessRecording({
    channels: [samples],
    sampleRateHz,
    channelCount: 1,
    codec: "WAV, PCM",
    fileSeconds: samples.length / sampleRateHz,
    problems: [],
  });
  return { file: set.id, sha256: "", recording, phase: set.phase };
}

const optionsOf = (machine: string) => ({ washer: washerById(machine), machineGiven: true });

/** Machine and phase are told; the speed is looked for, as `compare` does. */
export function keptRecordings({ recordings, ...set }: PairSet, hand: string): KeptRecording[] {
  return Object.entries(recordings).map(([name, made]) => {
    const heard = hear(clipOf(made, { ...set, recordings }), optionsOf(set.machine));
    const { recording } = heard.clip;
    const { phase, features } = heard.evidence;
    return {
      hand,
      ...set,
      name,
      harsh: made.harsh,
      side: sideOf(heard),
      // The rules ask for features alone.
      evidence: { phase, features, lines: [], tones: [], impacts: [] },
      recording: { ...recording, samples: new Float32Array(0) },
    };
  });
}

/** Reads files of kept recordings, judging each by the rules as they are now. */
export function* keptSets(paths: readonly string[]): Generator<KeptSet> {
  for (const path of paths) {
    let current: {
      set: KeptSet["set"];
      sides: Map<string, ComparedSide & { harsh: boolean }>;
    } | null = null;
    for (const line of readFileSync(path, "utf8").split("\n")) {
      if (line === "") continue;
      const { name, harsh, side, evidence, recording, ...set } = JSON.parse(line) as KeptRecording;
      if (current?.set.id !== set.id) {
        if (current) yield current;
        current = { set, sides: new Map() };
      }
      const heard = diagnosedSide(side, { recording, evidence }, optionsOf(set.machine));
      current.sides.set(name, { ...heard, harsh });
    }
    if (current) yield current;
  }
}
