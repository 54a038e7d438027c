import { runAgainCautions } from "../inspection/cautions.js";
import { isOneRecording, type ComparisonAnswer } from "../answer/compare-recordings.js";
import type { ComparedFeature, ComparisonVerdict, Spread } from "../comparison/comparison.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import { comparedFigure } from "./compared-figure.js";
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

const nextText = (answer: ComparisonAnswer): string =>
  isOneRecording(answer)
    ? "Next: both files hold the same recording; name one that was made after the repair."
    : NEXT[answer.verdict];

const WHO = {
  told: "named by you",
  job: "most likely in the job file",
  sound: "leads in the recording before",
} as const;

const signed = (value: number): string => `${value >= 0 ? "+" : "-"}${Math.abs(value).toFixed(1)}`;

const spread = ({ value, low, high }: Spread): string =>
  `${signed(value)} (90 % ${signed(low)} to ${signed(high)})`;

const figures = (value: number, unit: string): string =>
  comparedFigure(value, unit, unit === "dB" ? 1 : 2);

/** Units that a reader does not miss. */
const PLAIN = new Set(["ratio", "share"]);

function featureLines(features: readonly ComparedFeature[], width: number): string[] {
  if (features.length === 0) return [];
  return [
    "",
    "What the answer stands on, before -> after (nats for gone):",
    ...features.flatMap(({ meaning, unit, before, after, change, nats }) => {
      const name = PLAIN.has(unit) ? "" : ` ${unit}`;
      const values = `${figures(before, unit)} -> ${figures(after, unit)}${name}`;
      const interval =
        change === null
          ? ""
          : `, change 90 % ${figures(change.low, unit)} to ${figures(change.high, unit)}`;
      return wrap(`- ${meaning}: ${values}${interval} (${signed(nats)})`, width, "  ");
    }),
  ];
}

/** Whether the first can show a cure; where the verdict says already that it cannot, the figure alone. */
function reachLine({ reach, text }: ComparisonAnswer): string {
  const said = reach.text === text ? "Hardly." : reach.text;
  const figure =
    reach.nats === null ? "" : ` A full cure would reach about ${signed(reach.nats)} nats.`;
  return `Can the first show a cure? ${said}${figure}`;
}

/** A comparison as a person reads it: first line the verdict, then why, the figures and what to do next. */
export function comparisonText(answer: ComparisonAnswer, width = 100): string {
  const { verdict, text, component, componentFrom, gone, features, recordings } = answer;
  const lines = [`${verdict[0]!.toUpperCase()}${verdict.slice(1)}.`, ...wrap(text, width, ""), ""];
  for (const [i, { file, phase, drumRpm }] of recordings.entries()) {
    const speed = drumRpm === null ? "drum speed not heard" : `drum ${Math.round(drumRpm)} rpm`;
    const row = `${i === 0 ? "Before:" : "After:"} ${showControls(file)}, ${phase === "unknown" ? "phase not known" : phase}, ${speed}`;
    lines.push(...wrap(row, width, "  "));
  }
  lines.push(...wrap(`Part: ${COMPONENT_NAMES[component]} (${WHO[componentFrom]})`, width, "  "));
  lines.push(...wrap(reachLine(answer), width, "  "));
  if (gone) {
    const odds = `Gone against still there: ${spread(gone)} nats; over 0 speaks for gone.`;
    lines.push(...wrap(odds, width, "  "));
  }
  lines.push(...featureLines(features, width), "", ...wrap(nextText(answer), width, "  "));
  if (verdict === "cannot tell") {
    lines.push(...runAgainCautions().flatMap((text) => wrap(text, width, "  ")));
  }
  return `${lines.join("\n")}\n`;
}
