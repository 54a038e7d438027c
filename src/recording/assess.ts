import { totalSeconds } from "./quality/intervals.js";
import { listenTo } from "./quality/listen.js";
import { problemOf } from "./quality/problems.js";
import { problemsOf, usableOf } from "./quality/verdict.js";
import type { DecodedAudio, Recording, RecordingProblem } from "./recording.js";

function emptyRecording(decoded: DecodedAudio): Recording {
  return {
    samples: new Float32Array(0),
    sampleRateHz: decoded.sampleRateHz,
    durationSeconds: 0,
    channels: decoded.channelCount,
    codec: decoded.codec,
    bandHz: [0, decoded.sampleRateHz / 2],
    problems: [...decoded.problems, problemOf("silent", "blocks", {}, "silent-all")],
    usable: [],
    quality: {
      clippedShare: 0,
      gainPumping: false,
      noiseSuppressed: false,
      speechShare: 0,
      silentShare: 1,
      voiceCodec: false,
    },
  };
}

// The decoder's word on a problem stands; the same code is not told twice.
function mergeProblems(
  told: readonly RecordingProblem[],
  found: readonly RecordingProblem[],
): RecordingProblem[] {
  const known = new Set(told.map((problem) => problem.code));
  return [...told, ...found.filter((problem) => !known.has(problem.code))];
}

/**
 * Listens to a decoded recording and says what it can show.
 *
 * Chooses one channel, finds the band that carries sound, and marks clipping, pumping gain, removed noise,
 * talk, handling, silence, cuts and damage. Nothing is thrown: a weak recording gets problems, and one that
 * can show nothing (silent, or under two usable seconds) a problem that `blocks`.
 *
 * @param decoded channels of one length, full scale ±1; NaN and infinite samples become zero
 * @returns times in seconds from the first sample of `decoded.channels`
 */
export function assessRecording(decoded: DecodedAudio): Recording {
  if (decoded.channels.length === 0 || decoded.channels[0]!.length === 0) {
    return emptyRecording(decoded);
  }
  const findings = listenTo(decoded);
  const usable = usableOf(findings);
  const share = (seconds: number): number => seconds / findings.durationSeconds;
  return {
    samples: findings.samples,
    sampleRateHz: findings.sampleRateHz,
    durationSeconds: findings.durationSeconds,
    channels: decoded.channelCount,
    codec: decoded.codec,
    bandHz: findings.bandHz,
    problems: mergeProblems(decoded.problems, problemsOf(findings, usable)),
    usable: usable.intervals,
    quality: {
      clippedShare: findings.clipping.share,
      gainPumping: findings.gainPumping,
      noiseSuppressed: findings.noiseSuppressed,
      speechShare: share(totalSeconds(findings.speech)),
      silentShare: share(totalSeconds(findings.silence)),
      voiceCodec: findings.traits.voice,
    },
  };
}
