import type { ComparisonAnswer } from "../../answer/compare-recordings.js";
import { FEATURES } from "../../evidence/features.data.js";
import { featureValue } from "../feature-value.js";
import { changePicture, type ChangeRow } from "../picture/change-picture.js";
import { dataTable, figure } from "./figure.js";
import { html, outside, type Markup } from "./markup.js";
import { partName } from "./words.js";

const signed = (value: number): string =>
  `${value < 0 ? "\u2212" : "+"}${Math.abs(value).toFixed(1)}`;

function evidenceFigure({ evidence, component }: ComparisonAnswer): Markup | null {
  if (evidence === null) return null;
  const { before, after, fall } = evidence;
  const rows: ChangeRow[] = [
    { name: "Before", value: before },
    { name: "After", value: after },
    { name: "Fell by", ...fall },
  ];
  return figure({
    id: "change",
    title: `What speaks for the ${partName(component)}, against a machine in order`,
    draw: (width) => changePicture(rows, { unit: "evidence, nats", zero: "tells nothing" }, width),
    caption: html`Right of the line the sound speaks for the ${partName(component)}, left of it for
    a machine in order; +2.3 makes the part ten times likelier. The thin line is the 90 % interval
    of the fall, from drawing blocks of both recordings anew; a fall whose interval reaches zero is
    not sure.`,
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

function featuresTable({ features }: ComparisonAnswer): Markup | null {
  if (features.length === 0) return null;
  const rows = features.map(({ feature, before, after }) => {
    const known = FEATURES.find(({ id }) => id === feature);
    return [
      html`${known?.meaning ?? feature} <span class="name soft">${feature}</span>`,
      featureValue(before, known?.unit),
      featureValue(after, known?.unit),
      known?.unit ?? "",
    ];
  });
  return html`<h3>What led to the diagnosis, before and after</h3>
    ${dataTable({ columns: ["observation", "before", "after", "unit"], rows }, "What led to the diagnosis")}`;
}

/** The evidence and the observations behind it, before and after. */
export const changeEvidence = (answer: ComparisonAnswer): Markup =>
  html`${evidenceFigure(answer)}${featuresTable(answer)}`;

/** What the two recordings are. */
export function recordingsTable({ recordings }: ComparisonAnswer): Markup {
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
