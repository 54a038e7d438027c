import type { TriageSummary } from "../../answer/triage-summary.js";
import type { Evaluation } from "../../evaluation/scores.js";
import type { ComparisonPageInput } from "./comparison-page.js";
import type { DiagnosisPageInput } from "./diagnosis-page.js";
import type { EvaluationTold } from "./evaluation-page.js";
import type { NextCheckPageInput } from "./next-check-input.js";

// The drawing parts take a tenth of a second to load, which an answer on the screen need not wait for.

/** The report of a diagnosis: see `diagnosisPage`. */
export const diagnosisReport = async (input: DiagnosisPageInput): Promise<string> =>
  (await import("./diagnosis-page.js")).diagnosisPage(input);

/** The report of an evaluation: see `evaluationPage`. */
export const evaluationReport = async (
  evaluation: Evaluation,
  told?: EvaluationTold,
): Promise<string> => (await import("./evaluation-page.js")).evaluationPage(evaluation, told);

/** The list of many recordings, with addresses of their own pages by file: see `triagePage`. */
export const triageReport = async (
  rows: readonly TriageSummary[],
  pages?: ReadonlyMap<string, string>,
): Promise<string> => (await import("./triage-page.js")).triagePage(rows, pages);

/** The plan of an inspection: see `nextCheckPage`. */
export const nextCheckReport = async (input: NextCheckPageInput): Promise<string> =>
  (await import("./next-check-page.js")).nextCheckPage(input);

/** The report of a comparison: see `comparisonPage`. */
export const comparisonReport = async (input: ComparisonPageInput): Promise<string> =>
  (await import("./comparison-page.js")).comparisonPage(input);
