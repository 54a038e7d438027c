import { spawn, type ChildProcessByStdio } from "node:child_process";
import { resolve } from "node:path";
import type { Readable } from "node:stream";
import { damaged, notAudio } from "../decode/refusal.js";
import type { PcmBlock, PcmStream } from "../decode/pcm-stream.js";
import type { RecordingProblem } from "../recording.js";
import { createFloatReader } from "./float-reader.js";

/** How a system ffmpeg is used for formats that no decoder of this library reads. */
export interface FfmpegOptions {
  /** Command to run; null never runs one. @defaultValue "ffmpeg" */
  readonly ffmpegCommand?: string | null;
  /** Longest run, in seconds, after which it is ended. @defaultValue 180 */
  readonly ffmpegSeconds?: number;
}

export const FFMPEG_DEFAULTS = Object.freeze({ ffmpegCommand: "ffmpeg", ffmpegSeconds: 180 });

type Child = ChildProcessByStdio<null, Readable, Readable>;

// Containers of sound and video only. Play lists and the like, which name other files, are left out.
const DEMUXERS =
  "aac,ac3,aiff,amr,amrnb,amrwb,ape,asf,au,avi,caf,dts,eac3,flac,flv,matroska,webm,mov,mp4,m4a,3gp,3g2,mj2,mp3,mpeg,mpegts,ogg,rm,tta,voc,w64,wav,wv";

/** Largest piece of memory that ffmpeg may ask for at once; sound needs a few megabytes. */
const LARGEST_BLOCK_BYTES = 256 * 1024 * 1024;
const LOG_KEPT_CHARACTERS = 20_000;

interface Run {
  readonly child: Child;
  /** What ffmpeg has said so far. */
  readonly log: () => string;
  /** Exit code; -1 where the command could not be started. */
  readonly ended: Promise<number>;
  readonly timedOut: () => boolean;
  stop(): void;
}

// No shell, no standard input, no network, an absolute path behind `file:` so that no name is an option.
function run(command: string, path: string, seconds: number): Run {
  const input = `file:${resolve(path)}`;
  const args = ["-hide_banner", "-nostdin", "-nostats", "-v", "info"];
  // Its own limits hold even where this process or thread is killed before it can end the child.
  args.push("-timelimit", String(Math.ceil(seconds)), "-max_alloc", String(LARGEST_BLOCK_BYTES));
  args.push("-protocol_whitelist", "file,pipe", "-format_whitelist", DEMUXERS, "-i", input);
  args.push("-map", "0:a:0", "-vn", "-sn", "-dn", "-c:a", "pcm_f32le", "-f", "wav", "pipe:1");
  const child = spawn(command, args, { stdio: ["ignore", "pipe", "pipe"], windowsHide: true });
  let log = "";
  let late = false;
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    if (log.length < LOG_KEPT_CHARACTERS) log += text;
  });
  const stop = (): void => {
    child.kill("SIGKILL");
  };
  const timer = setTimeout(() => {
    late = true;
    stop();
  }, 1000 * seconds);
  const ended = new Promise<number>((done) => {
    child.once("error", () => {
      done(-1);
    });
    child.once("close", (code) => {
      done(code ?? -2);
    });
  }).finally(() => {
    clearTimeout(timer);
  });
  return { child, log: () => log, ended, timedOut: () => late, stop };
}

/**
 * Opens a recording through a system ffmpeg.
 *
 * @param format what is known about the format, for messages
 * @returns null where there is no ffmpeg
 *
 * Throws `not-audio` where ffmpeg finds no sound, `recording-damaged` where it fails or takes too long.
 */
export async function openThroughFfmpeg(
  path: string,
  format: string,
  options: FfmpegOptions = {},
): Promise<PcmStream | null> {
  const { ffmpegCommand, ffmpegSeconds } = { ...FFMPEG_DEFAULTS, ...options };
  if (ffmpegCommand === null) return null;
  const start = (): Run => run(ffmpegCommand, path, ffmpegSeconds);
  const probe = start();
  const reader = createFloatReader();
  try {
    for await (const piece of probe.child.stdout) if (reader.push(piece as Buffer)) break;
  } catch {
    // A command that cannot be started closes its output; the exit code below tells.
  }
  probe.stop();
  const code = await probe.ended;
  if (reader.shape === null) {
    if (code === -1) return null;
    if (probe.timedOut()) throw tooSlow(path, ffmpegSeconds);
    if (/matches no streams|Output file .*does not contain any stream/.test(probe.log())) {
      throw notAudio(path, "this is a video without sound");
    }
    if (format === "unknown format")
      throw notAudio(path, "the content is of no known sound format");
    throw damaged(path, `ffmpeg cannot decode it as ${format}`, { log: lastLine(probe.log()) });
  }
  const log = probe.log();
  return {
    codec: codecName(format, log),
    lossy: !/Audio: (alac|flac|ape|wavpack|tta|pcm_)/.test(log),
    ...reader.shape,
    ...readLength(log),
    problems: voiceProblem(log),
    blocks: () => blocks(path, start(), ffmpegSeconds),
  };
}

async function* blocks(path: string, running: Run, seconds: number): AsyncGenerator<PcmBlock> {
  const reader = createFloatReader();
  try {
    for await (const piece of running.child.stdout) {
      reader.push(piece as Buffer);
      const block = reader.take();
      if (block !== null) yield block;
    }
  } finally {
    running.stop();
    await running.ended;
  }
  if (running.timedOut()) throw tooSlow(path, seconds);
}

const tooSlow = (path: string, seconds: number): Error =>
  damaged(path, `ffmpeg did not finish it within ${seconds} s`, { seconds });

const lastLine = (log: string): string => log.trim().split("\n").at(-1) ?? "";

const voiceNames: Readonly<Record<string, string>> = {
  amrnb: "amr-nb",
  amr_nb: "amr-nb",
  amrwb: "amr-wb",
  amr_wb: "amr-wb",
};

function codecName(format: string, log: string): string {
  const container = /Input #0, ([^,\s]+)/.exec(log)?.[1] ?? format;
  const [, codec = "unknown codec", detail] = /Audio: (\w+)(?: \(([^)]*)\))?/.exec(log) ?? [];
  if (codec === "aac" && detail?.startsWith("HE-AAC")) return `${container}, ${detail} (ffmpeg)`;
  return `${container}, ${voiceNames[codec] ?? codec} (ffmpeg)`;
}

function readLength(log: string): { claimedSeconds: number | null; roughSeconds?: number } {
  const found = /Duration: (\d+):(\d+):(\d+\.\d+)/.exec(log);
  if (!found) return { claimedSeconds: null };
  const seconds = Number(found[1]) * 3600 + Number(found[2]) * 60 + Number(found[3]);
  // ffmpeg says so itself where it only guesses from the bit rate.
  if (/Estimating duration/.test(log)) return { claimedSeconds: null, roughSeconds: seconds };
  return { claimedSeconds: seconds };
}

function voiceProblem(log: string): RecordingProblem[] {
  if (!/Audio: amr/.test(log)) return [];
  return [
    {
      code: "lossy-codec",
      severity: "limits",
      message:
        "The recording went through a telephone voice codec, which reshapes noise and leaves out high tones. Record with the phone's voice recorder at its highest quality.",
    },
  ];
}
