import type { ComparisonAnswer } from "../../answer/compare-recordings.js";
import type { Spread } from "../../comparison/comparison.js";
import { FEATURES } from "../../evidence/features.data.js";
import type { Component } from "../../machine/words.js";
import { featureValue } from "../feature-value.js";
import { changePicture, type ChangeRow } from "../picture/change-picture.js";
import { dataTable, figure } from "./figure.js";
import { html, outside, type Markup } from "./markup.js";
import { partName } from "./words.js";

/** What the page shows of a comparison; what a comparison does not hold is not shown. */
interface ShownComparison {
  readonly component: Component;
  /** Log-odds that the noise is gone, nats. */
  readonly gone?: Spread | null;
  /** Evidence for the part against a machine in order, nats. */
  readonly evidence?: {
    readonly before: number;
    readonly after: number;
    readonly fall: Spread;
  } | null;
  readonly features: readonly {
    readonly feature: string;
    readonly meaning?: string;
    readonly unit?: string;
    readonly before: number | null;
    readonly after: number | null;
    readonly change?: Spread;
    readonly nats?: number;
  }[];
}

const signed = (value: number, digits = 1): string =>
  `${value < 0 ? "\u2212" : "+"}${Math.abs(value).toFixed(digits)}`;

interface Drawn {
  readonly title: string;
  readonly rows: readonly ChangeRow[];
  readonly axis: { readonly unit: string; readonly zero: string };
  readonly caption: string;
}

function drawnOf({ gone, evidence, component }: ShownComparison): Drawn | null {
  const part = partName(component);
  if (gone !== undefined && gone !== null) {
    return {
      title: `Is the noise of the ${part} gone?`,
      rows: [{ name: "Gone", ...gone }],
      axis: { unit: "log-odds, nats", zero: "even odds" },
      caption:
        "Right of the line both recordings together say that the noise is gone, left of it that it is still there; +2.3 is ten to one. The thin line is the 90 % interval, from drawing blocks of both recordings anew; one that crosses the line leaves it open.",
    };
  }
  if (evidence === undefined || evidence === null) return null;
  const { before, after, fall } = evidence;
  return {
    title: `What speaks for the ${part}, against a machine in order`,
    rows: [
      { name: "Before", value: before },
      { name: "After", value: after },
      { name: "Fell by", ...fall },
    ],
    axis: { unit: "evidence, nats", zero: "tells nothing" },
    caption: `Right of the line the sound speaks for the ${part}, left of it for a machine in order; +2.3 makes the part ten times likelier. The thin line is the 90 % interval of the fall, from drawing blocks of both recordings anew; a fall whose interval reaches zero is not sure.`,
  };
}

function evidenceFigure(shown: ShownComparison): Markup | null {
  const drawn = drawnOf(shown);
  if (drawn === null) return null;
  const { title, rows, axis, caption } = drawn;
  return figure({
    id: "change",
    title,
    draw: (width) => changePicture(rows, axis, width),
    caption: html`${caption}`,
    table: {
      columns: ["", "nats", "90 % interval"],
      rows: rows.map(({ name, value, low, high }) => [
        name,
        signed(value),
        low === undefined || high === undefined ? "–" : `${signed(low)} to ${signed(high)}`,
      ]),
    },
  });
}

const spreadWords = ({ value, low, high }: Spread): string =>
  `${signed(value, 2)} (${signed(low, 2)} to ${signed(high, 2)})`;

function featuresTable({ features }: ShownComparison): Markup | null {
  if (features.length === 0) return null;
  const spread = features.some(({ change }) => change !== undefined);
  const rows = features.map(({ feature, before, after, change, nats, ...told }) => {
    const known = FEATURES.find(({ id }) => id === feature);
    const unit = told.unit ?? known?.unit;
    return [
      html`${told.meaning ?? known?.meaning ?? feature} <span class="name soft">${feature}</span>`,
      featureValue(before, unit),
      featureValue(after, unit),
      ...(spread ? [change === undefined ? "–" : spreadWords(change)] : []),
      unit ?? "",
      ...(spread ? [nats === undefined ? "–" : signed(nats)] : []),
    ];
  });
  const columns = spread
    ? ["observation", "before", "after", "change, 90 % interval", "unit", "nats for gone"]
    : ["observation", "before", "after", "unit"];
  return html`<h3>What the verdict stands on, before and after</h3>
    ${dataTable({ columns, rows }, "What the verdict stands on")}`;
}

/** The evidence and the observations behind it, before and after. */
export const changeEvidence = (shown: ShownComparison): Markup =>
  html`${evidenceFigure(shown)}${featuresTable(shown)}`;

/** What the two recordings are. */
export function recordingsTable({ recordings }: Pick<ComparisonAnswer, "recordings">): Markup {
  const rows = recordings.map(({ file, phase, drumRpm, sha256 }, i) => [
    i === 0 ? "before" : "after",
    outside(file),
    phase,
    drumRpm === null ? "not heard" : `${Math.round(drumRpm)} rpm`,
    html`<span class="name">${sha256}</span>`,
  ]);
  return html`<h3>The recordings</h3>
    ${dataTable({ columns: ["", "file", "phase", "drum", "SHA-256"], rows }, "The recordings")}`;
}
