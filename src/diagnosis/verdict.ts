import { chanceInWords } from "../foundation/chance-words.js";
import { capital } from "../foundation/first-letter.js";
import type { Verdict } from "../machine/words.js";
import type { RecordingProblem } from "../recording/recording.js";
import { VERDICT_LIMITS } from "./data/verdict.data.js";
import { partInSentence } from "./part-words.js";
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

/** "the drum bearing (45 %)" */
const withChance = ({ component, probability }: RankedComponent): string =>
  `${partInSentence(component)} (${chanceInWords(probability)})`;

/** What a further recording should come with: only what nobody has told yet. */
function sayWhat(told: ToldFacts): string {
  const missing = [
    ...(told.phase ? [] : ["which part of the programme it is"]),
    ...(told.machine ? [] : ["which kind of machine"]),
  ];
  return missing.length === 0 ? "" : `, and say ${missing.join(" and ")}`;
}

function normalSound({ probability }: RankedComponent): VerdictAnswer {
  const sure = probability >= VERDICT_LIMITS.likelyFrom;
  const said = sure
    ? `This sounds as the machine should (${chanceInWords(probability)}).`
    : `No part stands out; the sound is most likely as it should be (${chanceInWords(probability)}).`;
  return {
    label: "normal-sound",
    text: `${said} If a noise still worries you, record it at its loudest.`,
  };
}

/** Two parts in question, or one and the chance that nothing is wrong. */
function shortlist(first: RankedComponent, second: RankedComponent): VerdictAnswer {
  const maybe = (row: RankedComponent): string =>
    row.component === "normal"
      ? `perhaps nothing is wrong (${chanceInWords(row.probability)})`
      : `perhaps ${withChance(row)}`;
  const normal = [first, second].some(({ component }) => component === "normal");
  const said = normal
    ? `${maybe(first)}, ${maybe(second)}`
    : `in question: ${withChance(first)}, then ${withChance(second)}`;
  const text = `${capital(said)}. Sound alone does not decide.`;
  return { label: "shortlist", text };
}

function recordAgain(problems: readonly RecordingProblem[]): VerdictAnswer {
  const reasons = problems.filter((problem) => problem.severity === "blocks").map((p) => p.message);
  return { label: "record-again", text: [...new Set(reasons)].join(" ") };
}

function fromRanking(ranking: readonly RankedComponent[], told: ToldFacts): VerdictAnswer {
  const [first, second, third] = ranking as [RankedComponent, RankedComponent, RankedComponent];
  const clear =
    first.probability >= VERDICT_LIMITS.likelyFrom &&
    first.probability >= VERDICT_LIMITS.likelyRatio * second.probability;
  if (first.component === "normal") {
    const ahead =
      first.probability >= VERDICT_LIMITS.normalFrom &&
      first.probability >= VERDICT_LIMITS.normalRatio * second.probability;
    if (ahead || first.probability >= VERDICT_LIMITS.likelyFrom) {
      return normalSound(first);
    }
  }
  if (first.component === "other") {
    return {
      label: "record-again",
      text: "The noise fits none of the parts in the list. Record the phase in which it is loudest, from its start, for 20 seconds or more.",
    };
  }
  const normal = ranking.find(({ component }) => component === "normal");
  const doubt = VERDICT_LIMITS.normalDoubt * first.probability;
  if (normal !== undefined && normal !== first && normal.probability >= doubt) {
    return {
      label: "record-again",
      text: `It is not clear whether anything is wrong: perhaps ${withChance(first)}, perhaps ${withChance(normal)}. Record 20 seconds or more where the noise is loudest, from its start${sayWhat(told)}.`,
    };
  }
  if (clear) {
    return { label: "likely", text: `Most likely ${withChance(first)}.` };
  }
  const topThree = first.probability + second.probability + third.probability;
  const enough = told.machine
    ? VERDICT_LIMITS.shortlistTopThreeTold
    : VERDICT_LIMITS.shortlistTopThree;
  if (topThree < enough) {
    return {
      label: "record-again",
      text: `Too many parts fit what is heard to name one. Record 20 seconds or more where the noise is loudest, from its start${sayWhat(told)}.`,
    };
  }
  return shortlist(first, second);
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
  const verdict = fromRanking(ranking, told);
  const calm = verdict.label === "normal-sound";
  // Who names the machine has one before them; silence about its faults still needs to be heard.
  if (verdict.label === "record-again" || (told.machine && !calm)) return verdict;
  if (machine >= VERDICT_LIMITS.answerFrom) return verdict;
  const heard = calm ? "Nothing unusual is heard, and it" : "It";
  return {
    label: "record-again",
    text: `${heard} is not certain that a washing machine is heard. Record 20 seconds or more where the noise is loudest, half a metre from the machine${sayWhat(told)}.`,
  };
}
