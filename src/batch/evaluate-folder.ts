import { readFile, readdir } from "node:fs/promises";
import { basename, join } from "node:path";
import { diagnoseRecordings } from "../answer/diagnose-recordings.js";
import type { Answer } from "../answer/answer.js";
import type { Pair } from "../evaluation/pair.js";
import { truthSchema, type Truth } from "../evaluation/truth.js";
import { WasherNoiseError } from "../foundation/errors.js";
import { washerById } from "../machine/washers.js";
import { PHASES, type Phase } from "../machine/words.js";
import type { DecodeOptions } from "../recording/decode/decode-options.js";
import { loadClip } from "./load-clip.js";
import { readFault } from "./read-fault.js";

/** What the program is told of each recording: its machine and phase, or nothing. */
export type Telling = "machine-and-phase" | "nothing";

export interface EvaluateFolderOptions {
  /** Limits on each recording. */
  readonly limits?: DecodeOptions;
  /** Told before each recording. */
  readonly onStep?: (done: number, all: number) => void;
}

export interface FolderOutcome {
  readonly pairs: readonly Pair[];
  /** One line for each recording that could not be scored. */
  readonly failures: readonly string[];
}

function invalid(path: string, reason: string): WasherNoiseError {
  return new WasherNoiseError("truth-invalid", `Truth file ${path}: ${reason}.`, { path });
}

async function readTruth(path: string): Promise<Truth> {
  let json: unknown;
  try {
    json = JSON.parse(await readFile(path, "utf8"));
  } catch (error) {
    throw invalid(path, `cannot be read as JSON (${(error as Error).message})`);
  }
  const parsed = truthSchema.safeParse(json);
  if (parsed.success) {
    if (basename(parsed.data.file) === parsed.data.file) return parsed.data;
    throw invalid(path, "file must be a name in the same folder");
  }
  const issue = parsed.error.issues[0]!;
  throw invalid(path, `${issue.path.join(".") || "the whole"} is wrong: ${issue.message}`);
}

async function truthFiles(folder: string): Promise<string[]> {
  let names: string[];
  try {
    names = await readdir(folder);
  } catch (error) {
    const why = readFault(error);
    throw new WasherNoiseError("file-unreadable", `Folder ${folder} cannot be read: ${why}.`);
  }
  const found = names.filter((name) => name.endsWith(".truth.json")).sort();
  if (found.length > 0) return found.map((name) => join(folder, name));
  throw new WasherNoiseError(
    "truth-invalid",
    `Folder ${folder} holds no *.truth.json file. Make labelled recordings with \`washer-noise synthesize\`.`,
    { folder },
  );
}

const phaseOf = (truth: Truth): Phase => PHASES.find((phase) => phase === truth.phase) ?? "unknown";

const summaryOf = (answer: Answer): Pair["answer"] => ({
  verdict: answer.verdict.label,
  character: answer.character.label,
  components: answer.components.map(({ component, probability }) => ({ component, probability })),
  predictionSet: { components: answer.predictionSet.components },
  drumRpm: answer.speed.drumRpm,
});

async function pairOf(
  path: string,
  truth: Truth,
  telling: Telling,
  limits: DecodeOptions,
): Promise<Pair> {
  const clip = await loadClip(path, limits);
  const told = telling === "machine-and-phase" && truth.washer;
  const machine = told ? truth.machine : undefined;
  const { answer } = diagnoseRecordings([{ ...clip, phase: told ? phaseOf(truth) : "unknown" }], {
    washer: washerById(machine ?? "unknown"),
    machineGiven: machine !== undefined,
  });
  return { truth, answer: summaryOf(answer) };
}

/**
 * Diagnoses every labelled recording of a folder. A recording or truth file that cannot be used is
 * reported and the rest go on. Throws when the folder holds no truth file at all.
 */
export async function evaluateFolder(
  folder: string,
  telling: Telling,
  { limits = {}, onStep }: EvaluateFolderOptions = {},
): Promise<FolderOutcome> {
  const files = await truthFiles(folder);
  const pairs: Pair[] = [];
  const failures: string[] = [];
  for (const [i, path] of files.entries()) {
    onStep?.(i, files.length);
    try {
      const truth = await readTruth(path);
      pairs.push(await pairOf(join(folder, truth.file), truth, telling, limits));
    } catch (error) {
      failures.push(error instanceof Error ? error.message : String(error));
    }
  }
  return { pairs, failures };
}
