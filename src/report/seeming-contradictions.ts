import type { DiagnosedComponent } from "../diagnosis/diagnose.js";

/** Reasons that sound at odds in one answer though both are true of the recording. */
interface Pair {
  /** Rules of either side. */
  readonly one: readonly string[];
  readonly other: readonly string[];
  readonly text: string;
}

const PAIRS: readonly Pair[] = [
  {
    one: ["sound-is-low"],
    other: ["crackle-above-6k", "hiss-above-4k", "ringing-pings", "squeal-stands-out"],
    text: "Most of the sound is low; what is told of its high part is weaker and lies above that. Both are heard.",
  },
  {
    one: ["sound-is-low"],
    other: ["rough-noise", "rattling-impulses", "noise-chops"],
    text: "Most of the sound is low; what is told of roughness, impulses or bursts is heard in the weaker sound above that.",
  },
  {
    one: ["rough-noise"],
    other: ["rattling-impulses"],
    text: "Rough noise and sharp impulses are heard one over the other; they may come from two parts.",
  },
];

type ShownReasons = readonly Pick<DiagnosedComponent["for"][number], "rule">[];

/** What to say once of reasons that seem to contradict each other; nothing where none do. */
export function seemingContradictions(shown: ShownReasons): string[] {
  const has = (rules: readonly string[]): boolean => shown.some(({ rule }) => rules.includes(rule));
  const met = PAIRS.filter(({ one, other }) => has(one) && has(other));
  // One sentence on low and high is enough.
  return met
    .filter((pair, i) => met.findIndex(({ one }) => one[0] === pair.one[0]) === i)
    .map(({ text }) => text);
}
