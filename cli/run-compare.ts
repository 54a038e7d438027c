import {
  compareRecordings,
  comparisonText,
  loadClip,
  loadWasher,
  readJobFile,
  washerOfJob,
  writeJobFile,
} from "../src/index.js";
import type { MachineOptions } from "./shared-options.js";

interface CompareScreen {
  readonly say: (text: string) => void;
  readonly done: () => void;
  readonly width: number;
}

/** Runs `compare` and returns what goes to stdout; keeps the result in the job file when one is named. */
export async function runCompare(
  before: string,
  after: string,
  options: MachineOptions & { readonly job?: string | undefined },
  { say, done, width }: CompareScreen,
): Promise<string> {
  const opened = options.job === undefined ? null : await readJobFile(options.job);
  const { phase, drumRpm, motorRpm, lineHz, age, machine } = options;
  say(`Reading ${before} and ${after} ...`);
  const clips = await Promise.all([before, after].map((path) => loadClip(path)));
  const [first, second] = clips.map((clip) => ({ ...clip, phase }));
  const known = opened !== null && machine === undefined;
  const washer = known ? await washerOfJob(opened.path, opened.job) : await loadWasher(machine);
  const answer = compareRecordings(first!, second!, {
    washer,
    machineGiven: machine !== undefined,
    ...(drumRpm === undefined ? {} : { drumRpm }),
    ...(motorRpm === undefined ? {} : { motorRpm }),
    ...(lineHz === undefined ? {} : { lineHz }),
    ...(age === undefined ? {} : { ageYears: age }),
    onStep: say,
  });
  done();
  if (opened) {
    await writeJobFile(opened, {
      ...opened.job,
      after: { at: new Date().toISOString(), ...answer },
    });
  }
  return options.json ? `${JSON.stringify(answer)}\n` : comparisonText(answer, width);
}
