import type { RecordingProblem } from "../recording.js";
import { damaged } from "./refusal.js";

/** Counts the frames of a compressed recording that could not be decoded. */
export interface FrameTally {
  restart(): void;
  good(count?: number): void;
  bad(count?: number): void;
  /** Throws `recording-damaged` where more frames failed than succeeded. */
  finish(name: string): void;
  problems(): RecordingProblem[];
}

export function createFrameTally(): FrameTally {
  let goodCount = 0;
  let badCount = 0;
  return {
    restart: () => {
      goodCount = 0;
      badCount = 0;
    },
    good: (count = 1) => {
      goodCount += count;
    },
    bad: (count = 1) => {
      badCount += count;
    },
    finish: (name) => {
      if (badCount <= goodCount) return;
      throw damaged(name, `${badCount} of ${badCount + goodCount} sound frames cannot be decoded`, {
        badCount,
        goodCount,
      });
    },
    problems: () => (badCount === 0 ? [] : [damagedProblem(badCount, badCount + goodCount)]),
  };
}

function damagedProblem(badCount: number, frameCount: number): RecordingProblem {
  return {
    code: "damaged",
    severity: "limits",
    message: `${badCount} of ${frameCount} sound frames are damaged and were left out. Copy the file from the phone again.`,
  };
}
