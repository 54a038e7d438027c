// The public door. Everything that another program may rely on is exported here by name.
export { WasherNoiseError, type FailureCode } from "./foundation/errors.js";
export { createRandom, type Random } from "./foundation/random.js";
export {
  CHARACTERS,
  COMPONENTS,
  MACHINE_FAMILIES,
  MACHINE_IDS,
  MACHINE_PROFILES,
  PHASES,
  VERDICTS,
  type Character,
  type Component,
  type MachineId,
  type MachineProfileId,
  type Phase,
  type Verdict,
} from "./machine/words.js";
export { washerById } from "./machine/washers.js";
export { parseMachineFile } from "./machine/machine-file.js";
export { expectedLines } from "./machine/expected-lines.js";
export { shaftSpeeds, type ShaftSpeeds } from "./machine/shaft-speeds.js";
export { bearingMultiples, bearingRates, type BearingRates } from "./machine/bearing-rates.js";
export { beltHz, beltSlip, pulleyRatio } from "./machine/belt-drive.js";
export { planetaryMotion, planetaryRates } from "./machine/planetary.js";
export { plasterRpm, unbalanceForceN } from "./machine/unbalance.js";
export type { ExpectedLine } from "./machine/expected-line.js";
export type { MachineProfile, RunningState, Washer } from "./machine/profile.js";
export type { DecodedAudio, Recording, RecordingProblem } from "./recording/recording.js";
export { assessRecording } from "./recording/assess.js";
export { readSoundFile, type SoundFile } from "./recording/files/read-sound-file.js";
export {
  diagnoseRecordings,
  type ClipToDiagnose,
  type DiagnosedRecordings,
  type DiagnoseOptions,
} from "./answer/diagnose-recordings.js";
export type { Answer, RecordingFigures } from "./answer/answer.js";
export { encodeClips, encodeSounds, type EncodedClip } from "./answer/encode-clips.js";
export type { Pictures, RecordingPictures } from "./answer/picture-data.js";
export {
  comparisonReport,
  diagnosisReport,
  evaluationReport,
  nextCheckReport,
  triageReport,
} from "./report/html/reports.js";
export { checkOutlooks, type CheckOutlook } from "./answer/check-outlook.js";
export { checkReportPlace, writeReport } from "./batch/write-report.js";
export { diagnosisText } from "./report/diagnosis-text.js";
export { figuresText } from "./report/figures-text.js";
export { loadClip, type LoadedClip } from "./batch/load-clip.js";
export { loadWasher } from "./batch/load-washer.js";
export { evaluateFolder, type FolderOutcome, type Telling } from "./batch/evaluate-folder.js";
export { evaluationText } from "./report/evaluation-text.js";
export { drawRequests } from "./synthesis/draw-request.js";
export { synthesizeClip, type SyntheticClip } from "./synthesis/clip.js";
export type { ClipRequest } from "./synthesis/request.js";
export { wavBytes } from "./synthesis/wav-bytes.js";
export { truthSchema, type Truth } from "./evaluation/truth.js";
export { evaluatePairs, type Evaluation } from "./evaluation/scores.js";
export type { AnswerSummary, Pair } from "./evaluation/pair.js";
export { judgeReading } from "./inspection/meter/judge-reading.js";
export { meterJson } from "./inspection/meter/meter-json.js";
export type { MeterReading, MeterRequest } from "./inspection/meter/meter-reading.js";
export type { MeterResult } from "./inspection/meter/meter-result.js";
export { addReadingToJob, loadSensorTable } from "./batch/job-reading.js";
export { meterText } from "./report/meter-text.js";
export { emptyJob, jobText, type Job } from "./inspection/job/job.js";
export { parseJob } from "./inspection/job/parse-job.js";
export { addFinding, undoFinding } from "./inspection/next-step/job-findings.js";
export { nextStep, planOf } from "./inspection/next-step/next-step.js";
export type { NextStep } from "./inspection/next-step/next-step-answer.js";
export { testsForWasher } from "./inspection/checks/machine-fit.js";
export { showControls } from "./report/lines.js";
export { nextCheckText } from "./report/next-check-text.js";
export {
  fileOfJob,
  openJobFile,
  pathForJob,
  readJobFile,
  writeJobFile,
  type OpenJob,
} from "./batch/job-file.js";
export {
  compareHeard,
  compareRecordings,
  hearPair,
  type ComparisonAnswer,
  type PartToCompare,
} from "./answer/compare-recordings.js";
export { comparisonPictures } from "./answer/compare-pictures.js";
export type { ComparisonPictures } from "./answer/compare-picture-data.js";
export type { Reach } from "./comparison/reach.js";
export { comparisonText } from "./report/compare-text.js";
export { washerOfJob, withMachine } from "./batch/job-machine.js";
export { jobWithDiagnosis, openJobToUpdate, type JobToUpdate } from "./batch/job-diagnosis.js";
export { mergePrices } from "./inspection/economics/merge-prices.js";
export type { Prices } from "./inspection/economics/prices.js";
export { partsToBring, type VisitParts } from "./inspection/parts/parts-to-bring.js";
export { planVisit, type Visit } from "./inspection/parts/visit.js";
export { visitOfJob } from "./inspection/parts/visit-of-job.js";
export { visitLines } from "./report/visit-text.js";
export { triage, type TriageOptions } from "./batch/triage/triage.js";
export type { PagesWanted } from "./batch/triage/clip-page.js";
export { checkPagesPlace } from "./batch/triage/clip-page.js";
export { writePages } from "./batch/triage/write-pages.js";
export { runTriage, type TriageProgress, type TriageRun } from "./batch/triage/run-triage.js";
export { findRecordings, inShard, type InboxFile, type Shard } from "./batch/triage/inbox.js";
export { openWorkFile, type WorkFile } from "./batch/triage/work-file.js";
export { mergeRowFiles, type RowList } from "./batch/triage/row-list.js";
export { triageCsv } from "./batch/triage/triage-csv.js";
export { parseIntake, readIntake, type IntakeSheet } from "./batch/intake/intake-sheet.js";
export { matchIntake } from "./batch/intake/match-intake.js";
export { summaryOf, worstFirst, type TriageSummary } from "./answer/triage-summary.js";
export type { TriageRow } from "./answer/triage-row.js";
export { triageText } from "./report/triage-text.js";
