import type { ComparisonAnswer } from "../answer/compare-recordings.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import { FEATURES } from "../evidence/features.data.js";
import { featureValue } from "./feature-value.js";
import { showControls, wrap } from "./lines.js";

const nats = (value: number): string => (value >= 0 ? "+" : "") + value.toFixed(1);
/** A comparison as a person reads it: first line the verdict, then what it stands on. */
export function comparisonText(answer: ComparisonAnswer, width = 100): string {
  const { verdict, text, component, evidence, features, recordings } = answer;
  const lines = [`${verdict[0]!.toUpperCase()}${verdict.slice(1)}.`, ...wrap(text, width, "")];
  for (const [i, { file, phase, drumRpm }] of recordings.entries()) {
    const speed = drumRpm === null ? "drum speed not heard" : `drum ${Math.round(drumRpm)} rpm`;
    lines.push(`${i === 0 ? "Before" : "After "}  ${showControls(file)}: ${phase}, ${speed}`);
  }
  if (evidence) {
    const { before, after, fall } = evidence;
    lines.push(
      "",
      `Evidence for the ${COMPONENT_NAMES[component]} against a machine in order, nats:`,
      `  before ${nats(before)}, after ${nats(after)}; fell by ${fall.value.toFixed(1)} (90 % ${fall.low.toFixed(1)} to ${fall.high.toFixed(1)})`,
    );
  }
  if (features.length > 0) lines.push("", "What led to the diagnosis            before      after");
  for (const { feature, before, after } of features) {
    const meaning = FEATURES.find(({ id }) => id === feature);
    lines.push(
      `  ${feature.padEnd(32)} ${featureValue(before, meaning?.unit).padStart(9)}  ${featureValue(after, meaning?.unit).padStart(9)}  ${meaning?.unit ?? ""}`,
    );
  }
  lines.push(
    "",
    "Same programme, no load, same phone and place make the two comparable. Run a full cycle and look for leaks before you leave.",
  );
  // Wrapping closes gaps, so tables that fit are left as they are.
  const shown = lines.flatMap((line) => (line.length <= width ? [line] : wrap(line, width, "  ")));
  return `${shown.join("\n")}\n`;
}
