import type { ComparisonAnswer } from "../answer/compare-recordings.js";
import type { ComparedFeature, ComparisonVerdict, Spread } from "../comparison/comparison.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import { showControls, wrap } from "./lines.js";

const NEXT: Readonly<Record<ComparisonVerdict, string>> = {
  cured: "Next: run a full cycle and look for leaks before you leave.",
  better:
    "Next: run the same phase again, empty, and record 30 seconds; diagnose what is left before you leave.",
  unchanged:
    "Next: go on with the next check; the part that was changed was not, or not alone, to blame.",
  worse: "Next: stop, look at what was opened and fitted last, then diagnose the new recording.",
  "cannot tell":
    "Next: record the same phase once more, empty, with the same phone in the same place; until then a hand test decides.",
};

const WHO = {
  told: "named by you",
  job: "most likely in the job file",
  sound: "leads in the recording before",
} as const;

const signed = (value: number): string => `${value >= 0 ? "+" : "-"}${Math.abs(value).toFixed(1)}`;

const spread = ({ value, low, high }: Spread): string =>
  `${signed(value)} (90 % ${signed(low)} to ${signed(high)})`;

function featureLines(features: readonly ComparedFeature[], width: number): string[] {
  if (features.length === 0) return [];
  return [
    "",
    "What changed most for this answer, before -> after:",
    ...features.flatMap(({ meaning, unit, before, after, change }) => {
      const digits = unit === "dB" ? 1 : 2;
      const name = unit === "dB" ? " dB" : "";
      const values = `${before.toFixed(digits)} -> ${after.toFixed(digits)}${name}`;
      const interval = `90 % ${change.low.toFixed(digits)} to ${change.high.toFixed(digits)}`;
      return wrap(`- ${meaning}: ${values} (change ${interval})`, width, "  ");
    }),
  ];
}

/** A comparison as a person reads it: first line the verdict, then why, the figures and what to do next. */
export function comparisonText(answer: ComparisonAnswer, width = 100): string {
  const { verdict, text, component, componentFrom, reach, gone, features, recordings } = answer;
  const lines = [`${verdict[0]!.toUpperCase()}${verdict.slice(1)}.`, ...wrap(text, width, ""), ""];
  for (const [i, { file, phase, drumRpm }] of recordings.entries()) {
    const speed = drumRpm === null ? "drum speed not heard" : `drum ${Math.round(drumRpm)} rpm`;
    const row = `${i === 0 ? "Before:" : "After:"} ${showControls(file)}, ${phase}, ${speed}`;
    lines.push(...wrap(row, width, "  "));
  }
  lines.push(...wrap(`Part: ${COMPONENT_NAMES[component]} (${WHO[componentFrom]})`, width, "  "));
  const shows = reach.enough ? "yes" : "hardly";
  lines.push(...wrap(`Can the first show a cure? ${shows}. ${reach.text}`, width, "  "));
  if (gone) {
    const odds = `Gone against still there: ${spread(gone)} nats; over 0 speaks for gone.`;
    lines.push(...wrap(odds, width, "  "));
  }
  lines.push(...featureLines(features, width), "", ...wrap(NEXT[verdict], width, "  "));
  return `${lines.join("\n")}\n`;
}
