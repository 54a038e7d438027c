// A process of its own that runs the cases it is sent and answers each, so that a crash or a hang ends only it.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { readSeeds } from "./corpus.js";
import { judgeCase } from "./judge-case.js";
import { makeCase } from "./make-case.js";

const [root, seedFolder, folder, seedText, ffmpegEvery, diagnoseEvery] = process.argv.slice(2);
mkdirSync(folder!, { recursive: true });
const seeds = readSeeds(root!, seedFolder!);
const every = (number: number, step: string): boolean => number % Number(step) === 0;

process.on("message", (number: number) => {
  void run(number);
});

async function run(number: number): Promise<void> {
  const fuzzCase = makeCase(Number(seedText), number, seeds);
  const depth = {
    throughFile: every(number, ffmpegEvery!),
    diagnosed: every(number, diagnoseEvery!),
    folder: folder!,
  };
  const report = { number, name: fuzzCase.name, kind: fuzzCase.kind };
  process.send!({ ...report, begun: true });
  const before = process.cpuUsage();
  const seconds = (): number => {
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1e6;
  };
  try {
    const outcome = await judgeCase(fuzzCase, depth);
    const megabytes = process.resourceUsage().maxRSS / 1024;
    process.send!({ ...report, outcome, seconds: seconds(), megabytes });
  } catch (error) {
    writeFileSync(join(folder!, `broken-${number}`), fuzzCase.bytes);
    const fault = error instanceof Error ? (error.stack ?? error.message) : String(error);
    process.send!({ ...report, fault, seconds: seconds(), megabytes: 0 });
  }
}

process.send!({ ready: true });
