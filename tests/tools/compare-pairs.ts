// Scores `compare` on pairs of the first simulator: the same washer with its fault and repaired, with the
// fault twice, and one recording against itself; the two recordings of a pair come from different phones.
//   npm run build:tools && node .tools/tests/tools/compare-pairs.js SEED COUNT
import { compareRecordings } from "../../src/answer/compare-recordings.js";
import type { ClipToDiagnose } from "../../src/answer/diagnose-recordings.js";
import { createRandom } from "../../src/foundation/random.js";
import { washerById } from "../../src/machine/washers.js";
import { assessRecording } from "../../src/recording/assess.js";
import { drawPhone } from "../../src/synthesis/channel/phone.js";
import { synthesizeClip } from "../../src/synthesis/clip.js";
import { drawRequests } from "../../src/synthesis/draw-request.js";
import type { ClipRequest } from "../../src/synthesis/request.js";

const [seedText = "1", countText = "20"] = process.argv.slice(2);

function clipOf(request: ClipRequest): ClipToDiagnose {
  const { samples, sampleRateHz } = synthesizeClip(request);
  const recording = assessRecording({
    channels: [samples],
    sampleRateHz,
    channelCount: 1,
    codec: "WAV, PCM",
    fileSeconds: samples.length / sampleRateHz,
    problems: [],
  });
  return { file: "clip.wav", sha256: "", recording, phase: request.phase };
}

const tally = new Map<string, number>();
const requests = drawRequests(Number(seedText), Number(countText), {
  normalShare: 0,
  otherShare: 0,
});
for (const request of requests) {
  const random = createRandom(request.seed);
  const other = { ...drawPhone(random.fork("b")), noiseSuppressionDb: 0 };
  const before = clipOf({ ...request, phone: drawPhone(random.fork("a")) });
  const pairs = {
    repaired: clipOf({ ...request, faults: [], phone: other }),
    "not repaired": clipOf({ ...request, phone: other }),
    "the same recording": before,
  };
  for (const [kind, after] of Object.entries(pairs)) {
    const options = { washer: washerById(request.machine), machineGiven: true };
    const key = `${kind}: ${compareRecordings(before, after, options).verdict}`;
    tally.set(key, (tally.get(key) ?? 0) + 1);
  }
}
for (const [key, count] of [...tally].sort()) process.stdout.write(`${key} ${count}\n`);
