import {
  diagnoseRecordings,
  diagnosisReport,
  diagnosisText,
  encodeClips,
  figuresText,
  loadClip,
  loadWasher,
  PHASES,
  WasherNoiseError,
  writeReport,
  type ClipToDiagnose,
  type DiagnosedRecordings,
  type Phase,
} from "../src/index.js";
import type { HtmlOptions } from "./html-option.js";
import type { MachineOptions } from "./shared-options.js";
import type { Progress } from "./terminal.js";

export interface Surroundings {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly progress: Progress;
  readonly color: boolean;
  readonly width: number;
}

/** `spin.m4a=spin` is a file and its phase; a real file of that very name wins by having no phase. */
function splitClip(argument: string, phase: Phase): { path: string; phase: Phase } {
  const match = /^(.+)=([a-z-]+)$/.exec(argument);
  const told = PHASES.find((known) => known === match?.[2]);
  return match && told ? { path: match[1]!, phase: told } : { path: argument, phase };
}

/** One line for a person: what is wrong with which file. */
export function complaint(error: unknown): string {
  if (error instanceof WasherNoiseError) return error.message;
  return error instanceof Error ? error.message : String(error);
}

async function loadAll(
  clips: readonly string[],
  phase: Phase,
  surroundings: Surroundings,
): Promise<{ loaded: ClipToDiagnose[]; failed: number }> {
  const loaded: ClipToDiagnose[] = [];
  let failed = 0;
  for (const argument of clips) {
    const clip = splitClip(argument, phase);
    surroundings.progress.say(`Reading ${clip.path} ...`);
    try {
      loaded.push({ ...(await loadClip(clip.path)), phase: clip.phase });
    } catch (error) {
      surroundings.err(`washer-noise: ${complaint(error)}\n`);
      failed++;
    }
  }
  return { loaded, failed };
}

async function writeHtml(
  diagnosed: DiagnosedRecordings,
  { html, audio }: HtmlOptions,
): Promise<void> {
  const { answer, figures, pictures } = diagnosed;
  if (html === undefined || pictures === undefined) return;
  const clips = audio ? { clips: await encodeClips(pictures) } : {};
  await writeReport(html, await diagnosisReport({ answer, figures, pictures, ...clips }));
}

/** Runs `diagnose` and returns the exit code. */
export async function runDiagnose(
  clips: readonly string[],
  options: MachineOptions & HtmlOptions & { readonly verbose: boolean },
  surroundings: Surroundings,
): Promise<number> {
  const { progress, out } = surroundings;
  const washer = await loadWasher(options.machine);
  const { loaded, failed } = await loadAll(clips, options.phase, surroundings);
  if (loaded.length === 0) {
    progress.done();
    return 2;
  }
  const diagnosed = diagnoseRecordings(loaded, {
    washer,
    machineGiven: options.machine !== undefined,
    ...(options.drumRpm === undefined ? {} : { drumRpm: options.drumRpm }),
    ...(options.motorRpm === undefined ? {} : { motorRpm: options.motorRpm }),
    ...(options.lineHz === undefined ? {} : { lineHz: options.lineHz }),
    ...(options.age === undefined ? {} : { ageYears: options.age }),
    ...(options.html === undefined ? {} : { pictures: options.audio ? "with-clips" : "silent" }),
    onStep: (text) => {
      progress.say(text);
    },
  });
  const { answer, figures } = diagnosed;
  await writeHtml(diagnosed, options);
  progress.done();
  if (options.json) out(`${JSON.stringify(answer)}\n`);
  else out(diagnosisText(answer, { width: surroundings.width, color: surroundings.color }));
  if (options.verbose && !options.json) out(`\n${figuresText(figures)}`);
  return failed > 0 ? 1 : 0;
}
