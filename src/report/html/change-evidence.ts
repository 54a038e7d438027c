import type { ComparisonAnswer } from "../../answer/compare-recordings.js";
import type { ComparedFeature, Comparison } from "../../comparison/comparison.js";
import { changePicture } from "../picture/change-picture.js";
import { comparedFigure } from "../compared-figure.js";
import { signed } from "../signed.js";
import { dataTable, figure } from "./figure.js";
import { html, outside, type Markup } from "./markup.js";
import { partName } from "./words.js";

/** Log-odds that the noise is gone, with their interval. */
function oddsFigure({ gone, component }: Comparison): Markup | null {
  if (gone === null) return null;
  const { value, low, high } = gone;
  return figure({
    id: "change",
    title: `Is the noise of the ${partName(component)} gone?`,
    draw: (width) =>
      changePicture(
        [{ name: "Gone", ...gone }],
        { unit: "log-odds, nats", zero: "even odds" },
        width,
      ),
    caption: html`Right of the line both recordings together say that the noise is gone, left of it
    that it is still there; +2.3 is ten to one. The thin line is the 90 % interval, from drawing
    blocks of both recordings anew; one that crosses the line leaves it open.`,
    table: {
      columns: ["", "nats", "90 % interval"],
      rows: [["Gone", signed(value), `${signed(low)} to ${signed(high)}`]],
    },
  });
}

const changeWords = ({ before, after, change }: ComparedFeature): string =>
  change === null
    ? signed(after - before, 2)
    : `${signed(change.value, 2)} (${signed(change.low, 2)} to ${signed(change.high, 2)})`;

const rowOf = (one: ComparedFeature) => {
  const { feature, meaning, unit, before, after, nats } = one;
  return [
    html`${meaning} <span class="name soft">${feature}</span>`,
    comparedFigure(before, unit),
    comparedFigure(after, unit),
    changeWords(one),
    unit,
    signed(nats),
  ];
};

const COLUMNS = [
  "observation",
  "before",
  "after",
  "change (90 % interval)",
  "unit",
  "nats for gone",
] as const;

function featuresTable({ features }: Comparison): Markup | null {
  if (features.length === 0) return null;
  return html`<h3>What the verdict stands on, before and after</h3>
    ${dataTable({ columns: COLUMNS, rows: features.map(rowOf) }, "What the verdict stands on")}`;
}

/** The evidence and the observations behind it, before and after. */
export const changeEvidence = (comparison: Comparison): Markup =>
  html`${oddsFigure(comparison)}${featuresTable(comparison)}`;

/** What the two recordings are. */
export function recordingsTable({ recordings }: Pick<ComparisonAnswer, "recordings">): Markup {
  const rows = recordings.map(({ file, phase, drumRpm, sha256 }, i) => [
    i === 0 ? "before" : "after",
    outside(file),
    phase === "unknown" ? "not known" : phase,
    drumRpm === null ? "not heard" : `${Math.round(drumRpm)} rpm`,
    html`<span class="name">${sha256}</span>`,
  ]);
  return html`<h3>The recordings</h3>
    ${dataTable({ columns: ["", "file", "phase", "drum", "SHA-256"], rows }, "The recordings")}`;
}
