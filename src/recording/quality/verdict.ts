import { joinIntervals, remainingIntervals, totalSeconds } from "./intervals.js";
import { QUALITY_LIMITS } from "./limits.data.js";
import { percent, problemOf } from "./problems.js";
import type { Findings } from "./listen.js";
import type { Interval, RecordingProblem } from "../recording.js";

const limit = (name: keyof typeof QUALITY_LIMITS): number => QUALITY_LIMITS[name].value;

/** Good stretches, and how many seconds of them. */
export interface Usable {
  readonly intervals: readonly Interval[];
  readonly seconds: number;
}

/**
 * What is left when the bad stretches are taken out with a guard of 0.1 s (0.2 s around speech).
 *
 * When talk leaves less than two seconds, the talk stays in: a machine under a voice is better than none.
 */
export function usableOf(findings: Findings): Usable {
  const { durationSeconds: duration } = findings;
  const instants = [...findings.splices, ...findings.damage.offsetJumps].map((time) => ({
    startSeconds: time,
    endSeconds: time + 1e-6,
  }));
  const always = joinIntervals(
    [
      ...findings.silence,
      ...findings.handling,
      ...findings.clippedBursts,
      ...findings.damage.dropouts,
      ...findings.damage.spikes,
      ...instants,
    ],
    duration,
    0.1,
  );
  const spoken = joinIntervals(findings.speech, duration, 0.2);
  const shortest = Math.min(limit("shortestPieceSeconds"), duration);
  const left = (removed: readonly Interval[]): Usable => {
    const intervals = remainingIntervals(joinIntervals(removed, duration), duration, shortest);
    return { intervals, seconds: totalSeconds(intervals) };
  };
  const strict = left([...always, ...spoken]);
  return strict.seconds >= limit("blockingSeconds") ? strict : left(always);
}

function lengthProblems(findings: Findings, usable: Usable): RecordingProblem[] {
  const silentShare = totalSeconds(findings.silence) / Math.max(1e-9, findings.durationSeconds);
  if (silentShare > 0.97) return [problemOf("silent", "blocks", {}, "silent-all")];
  const problems: RecordingProblem[] = [];
  if (silentShare > 0.02) {
    const severity = silentShare > 0.5 ? "limits" : "note";
    problems.push(problemOf("silent", severity, { share: percent(silentShare) }));
  }
  if (usable.seconds < limit("wishedSeconds")) {
    const severity = usable.seconds < limit("blockingSeconds") ? "blocks" : "limits";
    const seconds = usable.seconds.toFixed(1);
    const wording = seconds === "0.0" ? "nothing-usable" : "too-short";
    problems.push(problemOf("too-short", severity, { seconds }, wording));
  }
  return problems;
}

function overloadProblems({
  clipping,
  gainPumping,
  noiseSuppressed,
}: Findings): RecordingProblem[] {
  const problems: RecordingProblem[] = [];
  if (clipping.share >= limit("clippedShareNote")) {
    const severity = clipping.share >= limit("clippedShareLimits") ? "limits" : "note";
    problems.push(problemOf("clipped", severity, { share: percent(clipping.share) }));
  }
  if (gainPumping) problems.push(problemOf("gain-pumping", "limits"));
  if (noiseSuppressed) problems.push(problemOf("noise-suppressed", "limits"));
  return problems;
}

function bandProblems(findings: Findings): RecordingProblem[] {
  const { sampleRateHz, bandHz, traits, codec } = findings;
  const problems: RecordingProblem[] = [];
  if (sampleRateHz < limit("lowSampleRateHz")) {
    problems.push(problemOf("low-sample-rate", "limits", { rate: sampleRateHz }));
  }
  if (bandHz[1] <= limit("reducedBandHz") || bandHz[0] >= limit("highPassNoteHz")) {
    problems.push(
      problemOf("narrow-band", bandHz[1] <= limit("narrowBandHz") ? "limits" : "note", {
        low: bandHz[0].toFixed(0),
        high: bandHz[1].toFixed(0),
      }),
    );
  }
  if (traits.voice) problems.push(problemOf("lossy-codec", "limits", { codec }));
  else if (traits.rebuildsTreble) {
    problems.push(problemOf("lossy-codec", "note", { codec }, "treble-rebuilt"));
  }
  return problems;
}

/** Share of a recording that may be missing before its answer is trusted less. Common practice, no source. */
const MUCH_LOST = 0.05;

function disturbanceProblems(findings: Findings): RecordingProblem[] {
  const { damage, durationSeconds: duration } = findings;
  const problems: RecordingProblem[] = [];
  const spoken = totalSeconds(findings.speech) / Math.max(1e-9, duration);
  if (spoken > 0) {
    problems.push(
      problemOf("speech", spoken > 0.2 ? "limits" : "note", { share: percent(spoken) }),
    );
  }
  if (findings.handling.length > 0) {
    problems.push(problemOf("handling", "note", { count: findings.handling.length }));
  }
  if (findings.splices.length > 0) {
    const time = findings.splices.map((at) => at.toFixed(1)).join(", ");
    problems.push(problemOf("spliced", "note", { time }));
  }
  const { dropouts, spikes, offsetJumps, notNumbers } = damage;
  const lost = dropouts.length + spikes.length + offsetJumps.length + (notNumbers > 0 ? 1 : 0);
  const much = lost > 2 || totalSeconds(dropouts) > MUCH_LOST * duration;
  if (lost > 0) problems.push(problemOf("damaged", much ? "limits" : "note", { count: lost }));
  return problems;
}

function channelProblems({ channels }: Findings): RecordingProblem[] {
  if (channels === "agree") return [];
  const wording = channels === "dead" ? "channel-dead" : "channels-disagree";
  return [problemOf("channels-disagree", "note", {}, wording)];
}

/** All problems of a recording, the gravest first. */
export function problemsOf(findings: Findings, usable: Usable): RecordingProblem[] {
  const rank = { blocks: 0, limits: 1, note: 2 } as const;
  return [
    ...lengthProblems(findings, usable),
    ...overloadProblems(findings),
    ...bandProblems(findings),
    ...disturbanceProblems(findings),
    ...channelProblems(findings),
  ].sort((a, b) => rank[a.severity] - rank[b.severity]);
}
