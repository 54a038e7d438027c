import { WasherNoiseError } from "../../../foundation/errors.js";
import type { ByteSource } from "../byte-source.js";
import type { PcmBlock, PcmStream } from "../pcm-stream.js";
import { readRiff, type RiffFile } from "./riff.js";
import { readWavFormat, type WavFormat } from "./wav-format.js";
import { wavConverter } from "./wav-samples.js";

const FRAMES_PER_BLOCK = 16384;

/** Opens a WAV, RF64 or BW64 file. Throws as `readRiff` and `readWavFormat` do; `file-empty` without samples. */
export async function openWav(source: ByteSource): Promise<PcmStream> {
  const riff = await readRiff(source);
  const format = readWavFormat(source, riff.format);
  const frameBytes = format.channelCount * format.sampleBytes;
  const presentBytes = source.sizeBytes - riff.data.start;
  const claimedBytes = riff.sizesKnown ? riff.data.claimedBytes : presentBytes;
  const frames = Math.floor(Math.min(presentBytes, claimedBytes) / frameBytes);
  if (frames < 1) {
    throw new WasherNoiseError(
      "file-empty",
      `${source.name}: the WAV file holds a header but no sound. Record again.`,
      { file: source.name },
    );
  }
  const convert = await wavConverter(format);
  async function* blocks(): AsyncGenerator<PcmBlock> {
    for (let done = 0; done < frames; done += FRAMES_PER_BLOCK) {
      const count = Math.min(FRAMES_PER_BLOCK, frames - done);
      const bytes = await source.read(riff.data.start + done * frameBytes, count * frameBytes);
      yield convert(bytes);
    }
  }
  return {
    codec: codecName(riff, format),
    lossy: format.encoding === "mu-law" || format.encoding === "a-law",
    sampleRateHz: format.sampleRateHz,
    channelCount: format.channelCount,
    claimedSeconds: Math.floor(claimedBytes / frameBytes) / format.sampleRateHz,
    problems: [],
    blocks,
  };
}

function codecName(riff: RiffFile, format: WavFormat): string {
  const container = riff.form === "RIFF" ? "WAV" : riff.form;
  const bits = 8 * format.sampleBytes;
  const kinds = {
    integer: `PCM ${bits} bit`,
    float: `float ${bits} bit`,
    "mu-law": "mu-law",
    "a-law": "A-law",
  };
  return `${container}, ${kinds[format.encoding]}`;
}
