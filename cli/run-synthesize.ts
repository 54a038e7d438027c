import { mkdir, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import {
  COMPONENTS,
  MACHINE_PROFILES,
  PHASES,
  drawRequests,
  synthesizeClip,
  wavBytes,
  type ClipRequest,
} from "../src/index.js";
import {
  ENCODINGS,
  availableCodecs,
  requireCodec,
  writeEncoded,
  type SingleCodec,
} from "./encode-sound.js";
import { UsageError } from "./shared-options.js";
import type { SynthesizeOptions } from "./synthesize-options.js";
import type { Progress } from "./terminal.js";

const LIST_NAME = "how-made.json";

/** One of the known words, or a complaint that lists them. */
function known<T extends string>(
  option: string,
  words: readonly T[],
  word: string | undefined,
): T | undefined {
  if (word === undefined) return undefined;
  const found = words.find((candidate) => candidate === word);
  if (found) return found;
  throw new UsageError(`${option} must be one of ${words.join(", ")}; received "${word}".`);
}

function requestsOf(options: SynthesizeOptions): ClipRequest[] {
  const machine = known("--machine", MACHINE_PROFILES, options.machine);
  const phase = known("--phase", PHASES, options.phase);
  const fault = known("--fault", COMPONENTS, options.fault);
  return drawRequests(options.seed, options.count, {
    durationSeconds: options.seconds,
    ...(machine && { machine }),
    ...(phase && { phase }),
    ...(fault && { fault }),
    ...(options.normalShare !== undefined && { normalShare: options.normalShare }),
    ...(options.notWasherShare !== undefined && { otherShare: options.notWasherShare }),
    ...(options.faultDb !== undefined && { faultToBackgroundDb: options.faultDb }),
  });
}

/** Files that an earlier run of this command wrote into the folder. */
async function ownFiles(folder: string): Promise<string[]> {
  try {
    const list = JSON.parse(await readFile(join(folder, LIST_NAME), "utf8")) as { files: string[] };
    // Names only: a list that points out of the folder is not ours to clear.
    return list.files.filter((name) => basename(name) === name);
  } catch {
    return [];
  }
}

/** Makes the folder ready; throws when it holds anything that this command did not write. */
async function claimFolder(folder: string): Promise<void> {
  await mkdir(folder, { recursive: true });
  const own = new Set([LIST_NAME, ...(await ownFiles(folder))]);
  const foreign = (await readdir(folder)).filter((name) => !own.has(name));
  if (foreign.length > 0) {
    throw new UsageError(
      `--out must be a new or empty folder or one made by this command; "${folder}" holds "${foreign[0]}".`,
    );
  }
  for (const name of own) await rm(join(folder, name), { force: true });
}

interface PlannedClip {
  readonly request: ClipRequest;
  readonly codec: SingleCodec;
  readonly file: string;
  readonly truthFile: string;
}

function planClips(options: SynthesizeOptions, codecs: readonly SingleCodec[]): PlannedClip[] {
  return requestsOf(options).map((request, i) => {
    const codec = options.codec === "mix" ? codecs[i % codecs.length]! : options.codec;
    const number = options.count === 1 ? "" : `-${String(i + 1).padStart(4, "0")}`;
    const name = `${options.name}${number}`;
    const file = `${name}.${ENCODINGS[codec].extension}`;
    return { request: { ...request, file }, codec, file, truthFile: `${name}.truth.json` };
  });
}

const asJson = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

function summary(folder: string, requests: readonly ClipRequest[]): string {
  const faulty = requests.filter((request) => request.faults.length > 0).length;
  const others = requests.filter((request) => request.otherSound).length;
  return (
    `Wrote ${requests.length} recordings to ${folder}: ${faulty} with a fault, ` +
    `${requests.length - faulty - others} of washers in order, ${others} of other sounds.\n`
  );
}

/** Runs `synthesize` and returns the exit code. */
export async function runSynthesize(
  options: SynthesizeOptions,
  surroundings: { readonly out: (text: string) => void; readonly progress: Progress },
): Promise<number> {
  const { out: folder, ...how } = options;
  const available = await availableCodecs();
  requireCodec(options.codec, available);
  const clips = planClips(options, [...available.keys()]);
  await claimFolder(folder);
  // Listed before they are written, so that a run cut short can be repeated into the same folder.
  const files = clips.flatMap(({ file, truthFile }) => [file, truthFile]);
  await writeFile(
    join(folder, LIST_NAME),
    asJson({ schema: "washer-noise/synthesis@1", options: how, files }),
  );
  for (const [i, { request, codec, file, truthFile }] of clips.entries()) {
    surroundings.progress.say(`Making recording ${i + 1} of ${clips.length} ...`);
    const { samples, sampleRateHz, truth } = synthesizeClip(request);
    const wav = wavBytes(samples, sampleRateHz);
    await writeEncoded(join(folder, file), wav, codec, available.get(codec)!);
    const withCodec = { ...truth, codec: ENCODINGS[codec].words };
    await writeFile(join(folder, truthFile), asJson(withCodec));
  }
  surroundings.progress.done();
  surroundings.out(
    summary(
      folder,
      clips.map(({ request }) => request),
    ),
  );
  return 0;
}
