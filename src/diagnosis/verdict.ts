import type { Component, Verdict } from "../machine/words.js";
import type { RecordingProblem } from "../recording/recording.js";
import { COMPONENT_NAMES } from "./data/component-names.data.js";
import { VERDICT_LIMITS } from "./data/verdict.data.js";
import type { RankedComponent } from "./ranking.js";
import type { PhaseView } from "./view.js";

export interface VerdictAnswer {
  readonly label: Verdict;
  /** One or two sentences: what it is, or why there is no answer and how to get one. */
  readonly text: string;
}

export interface ToldFacts {
  readonly machine: boolean;
  readonly phase: boolean;
  readonly speed: boolean;
}

const percent = (p: number): string => `${Math.round(100 * p)} %`;

/** Log-odds that a washer (or at least a household machine) is heard in any of the recordings. */
export function machineLogOdds(views: readonly PhaseView[], told: ToldFacts): number {
  let heard = -Infinity;
  for (const view of views) {
    for (const clip of view.clips) {
      const { value, quality } = clip.evidence.features["machine-likeness"];
      heard = Math.max(heard, value === null ? 0 : value * quality);
    }
  }
  return (
    VERDICT_LIMITS.machineBias +
    heard +
    (told.machine ? VERDICT_LIMITS.toldMachineNats : 0) +
    (told.phase ? VERDICT_LIMITS.toldPhaseNats : 0) +
    (told.speed ? VERDICT_LIMITS.toldSpeedNats : 0)
  );
}

const named = (component: Component): string => COMPONENT_NAMES[component];

function recordAgain(problems: readonly RecordingProblem[]): VerdictAnswer {
  const reasons = problems.filter((problem) => problem.severity === "blocks").map((p) => p.message);
  return { label: "record-again", text: [...new Set(reasons)].join(" ") };
}

function fromRanking(ranking: readonly RankedComponent[]): VerdictAnswer {
  const [first, second, third] = ranking as [RankedComponent, RankedComponent, RankedComponent];
  const clear =
    first.probability >= VERDICT_LIMITS.likelyFrom &&
    first.probability >= VERDICT_LIMITS.likelyRatio * second.probability;
  if (first.component === "normal") {
    const ahead =
      first.probability >= VERDICT_LIMITS.normalFrom &&
      first.probability >= VERDICT_LIMITS.normalRatio * second.probability;
    if (ahead || first.probability >= VERDICT_LIMITS.likelyFrom) {
      return {
        label: "normal-sound",
        text: `This sounds as the machine should (${percent(first.probability)}). If a noise still worries you, record it at its loudest.`,
      };
    }
  }
  if (first.component === "other") {
    return {
      label: "record-again",
      text: "The noise fits none of the parts in the list. Record the phase in which it is loudest, from its start, for 20 seconds or more.",
    };
  }
  if (clear) {
    return {
      label: "likely",
      text: `Most likely the ${named(first.component)} (${percent(first.probability)}).`,
    };
  }
  const normal = ranking.find(({ component }) => component === "normal")?.probability ?? 0;
  if (first.component !== "normal" && normal >= VERDICT_LIMITS.normalDoubt * first.probability) {
    return {
      label: "record-again",
      text: `The recording does not decide whether anything is wrong: the ${named(first.component)} (${percent(first.probability)}) or a sound the machine should make (${percent(normal)}). Record 20 seconds or more of the noisy phase at its loudest, from its start, and tell the phase and the kind of machine.`,
    };
  }
  const topThree = first.probability + second.probability + third.probability;
  if (topThree < VERDICT_LIMITS.shortlistTopThree) {
    return {
      label: "record-again",
      text: "The recording does not decide between too many parts. Record 20 seconds or more of the noisy phase from its start, and tell the phase and the kind of machine.",
    };
  }
  const names = [first, second].map(
    (row) => `${named(row.component)} (${percent(row.probability)})`,
  );
  return { label: "shortlist", text: `Not decided by sound alone: ${names.join(" or ")}.` };
}

/** What the ranking amounts to; abstains with a reason before it guesses. */
export function verdictOf(
  ranking: readonly RankedComponent[],
  views: readonly PhaseView[],
  problems: readonly (readonly RecordingProblem[])[],
  told: ToldFacts,
): VerdictAnswer {
  const blocked = problems.every((list) => list.some((problem) => problem.severity === "blocks"));
  if (blocked) return recordAgain(problems.flat());
  const machine = machineLogOdds(views, told);
  if (machine < VERDICT_LIMITS.machineFrom) {
    return {
      label: "not-a-washer",
      text: "No washing machine is heard in this recording. Record the running machine from half a metre, without talking or music.",
    };
  }
  const verdict = fromRanking(ranking);
  const calm = verdict.label === "normal-sound";
  // Who names the machine has one before them; silence about its faults still needs to be heard.
  if (verdict.label === "record-again" || (told.machine && !calm)) return verdict;
  if (machine >= VERDICT_LIMITS.answerFrom) return verdict;
  const heard =
    verdict.label === "normal-sound" ? "Nothing unusual is heard, but nothing" : "Nothing";
  return {
    label: "record-again",
    text: `${heard} says for certain that a washing machine is heard. Record 20 seconds or more of the noisy phase, half a metre from the machine, and tell the phase.`,
  };
}
