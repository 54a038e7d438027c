import { hundredInWords } from "../../foundation/chance-words.js";
import { PROBLEM_WORDING, type WordingKey } from "./problem-wording.data.js";
import type { ProblemCode, RecordingProblem } from "../recording.js";

type Severity = RecordingProblem["severity"];

/** A problem with its sentence; every `{name}` in the wording is replaced by `facts[name]`. */
export function problemOf(
  code: ProblemCode,
  severity: Severity,
  facts: Readonly<Record<string, string | number>> = {},
  wording: WordingKey = code as WordingKey,
): RecordingProblem {
  const message = PROBLEM_WORDING[wording].replace(/\{(\w+)\}/g, (_, name: string) =>
    String(facts[name]),
  );
  return { code, severity, message };
}

/** A share as a percentage with one telling digit, or two from 10 on. */
export const percent = (share: number): string => {
  const value = 100 * share;
  return value >= 1 ? hundredInWords(share) : value >= 0.1 ? value.toFixed(1) : value.toFixed(2);
};
