// Decodes one sound file in a fresh process and reports processor time and peak memory.
//
//   npm run build && node tests/tools/decode-memory.mjs FILE
import { readSoundFile } from "../../dist/src/recording/files/read-sound-file.js";

const [file] = process.argv.slice(2);
if (file === undefined) {
  console.error("usage: node tests/tools/decode-memory.mjs FILE");
  process.exit(2);
}
const before = process.cpuUsage();
const sound = await readSoundFile(file);
const used = process.cpuUsage(before);
console.log(
  JSON.stringify({
    codec: sound.codec,
    fileSeconds: Number(sound.fileSeconds.toFixed(1)),
    keptSeconds: Number((sound.channels[0].length / sound.sampleRateHz).toFixed(1)),
    cpuSeconds: Number(((used.user + used.system) / 1e6).toFixed(2)),
    peakMegabytes: Math.round(process.resourceUsage().maxRSS / 1024),
    problems: sound.problems,
  }),
);
