/**
 * Writes clips of the second simulator as wav and truth.json pairs.
 * npm run build:tools && node .tools/tests/tools/make-second-set.js OUT COUNT SEED [normalShare] [notWasherShare]
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { drawClip } from "../second-simulator/clip.js";

function wavOf(samples: Float32Array, sampleRateHz: number): Buffer {
  const data = Buffer.alloc(44 + 2 * samples.length);
  data.write("RIFF", 0, "latin1");
  data.writeUInt32LE(36 + 2 * samples.length, 4);
  data.write("WAVEfmt ", 8, "latin1");
  data.writeUInt32LE(16, 16);
  data.writeUInt16LE(1, 20);
  data.writeUInt16LE(1, 22);
  data.writeUInt32LE(sampleRateHz, 24);
  data.writeUInt32LE(2 * sampleRateHz, 28);
  data.writeUInt16LE(2, 32);
  data.writeUInt16LE(16, 34);
  data.write("data", 36, "latin1");
  data.writeUInt32LE(2 * samples.length, 40);
  samples.forEach((v, i) =>
    data.writeInt16LE(Math.max(-32768, Math.min(32767, Math.round(v * 32768))), 44 + 2 * i),
  );
  return data;
}

const [out, count, seed, normalShare = "0.4", notWasherShare = "0.1"] = process.argv.slice(2);
if (out === undefined || count === undefined || seed === undefined) {
  process.stderr.write("make-second-set OUT COUNT SEED [normalShare] [notWasherShare]\n");
  process.exitCode = 2;
} else {
  mkdirSync(out, { recursive: true });
  for (let k = 0; k < Number(count); k++) {
    const clip = drawClip(Number(seed) + k, {
      normalShare: Number(normalShare),
      notWasherShare: Number(notWasherShare),
    });
    const name = clip.truth.file.replace(/\.wav$/, "");
    writeFileSync(join(out, clip.truth.file), wavOf(clip.samples, clip.sampleRateHz));
    writeFileSync(join(out, `${name}.truth.json`), `${JSON.stringify(clip.truth, null, 1)}\n`);
  }
}
