import type { DiagnosisPageInput } from "./diagnosis-page.js";

// The drawing parts take a tenth of a second to load, which an answer on the screen need not wait for.

/** The report of a diagnosis: see `diagnosisPage`. */
export const diagnosisReport = async (input: DiagnosisPageInput): Promise<string> =>
  (await import("./diagnosis-page.js")).diagnosisPage(input);
