import type { RecordingFigures } from "../answer/answer.js";
import { FEATURES } from "../evidence/features.data.js";
import type { LineFinding, Measurement } from "../evidence/evidence.js";
import { showControls } from "./lines.js";

const figure = (value: number): string =>
  Math.abs(value) >= 100 ? value.toFixed(0) : value.toPrecision(3);

function detailWords(measurement: Measurement): string {
  if (!measurement.detail) return "";
  return Object.entries(measurement.detail)
    .map(([name, value]) => `${name} ${typeof value === "number" ? figure(value) : value}`)
    .join(", ");
}

function featureLines(figures: RecordingFigures): string[] {
  return FEATURES.map(({ id, unit }) => {
    const measurement = figures.features[id];
    const value =
      measurement.value === null
        ? `missing (${measurement.missing ?? "not seen"})`
        : `${figure(measurement.value)} ${unit}`;
    const trust = measurement.value === null ? "" : `trust ${measurement.quality.toFixed(2)}`;
    return `  ${id.padEnd(24)} ${value.padEnd(22)} ${trust.padEnd(11)} ${detailWords(measurement)}`.trimEnd();
  });
}

function lineLine(finding: LineFinding): string {
  const order = finding.heardOrder === null ? "" : `order ${figure(finding.heardOrder)}`;
  const marks = [
    finding.confounded ? "falls on another line" : "",
    finding.sidebands === null ? "" : finding.sidebands ? "with sidebands" : "no sidebands",
  ].filter((mark) => mark !== "");
  const p = `p ${finding.p.toExponential(1)}, Holm ${finding.pAdjusted.toExponential(1)}`;
  return `  ${finding.line.label.padEnd(46)} ${figure(finding.heardHz).padStart(7)} Hz ${order.padEnd(12)} ${p} ${marks.join(", ")}`.trimEnd();
}

function figuresOfOne(figures: RecordingFigures): string[] {
  const lines = [...figures.lines].sort((a, b) => a.p - b.p).slice(0, 15);
  const tones = figures.tones
    .slice(0, 10)
    .map(
      (tone) =>
        `  ${figure(tone.hz).padStart(7)} Hz  ${tone.prominenceDb.toFixed(1)} dB  ${tone.scaling}` +
        (tone.drumOrder === null ? "" : `  order ${figure(tone.drumOrder)}`),
    );
  return [
    `Figures of ${showControls(figures.file)}`,
    ...featureLines(figures),
    "Lines looked for, most significant first",
    ...lines.map(lineLine),
    "Strongest tones",
    ...tones,
  ];
}

const LEGEND = [
  "How to read the figures",
  "  trust         how far a figure is to be trusted, 0 to 1",
  "  p             chance that places where nothing is expected stand out as much: small is heard",
  "  Holm          p raised for the number of lines that were looked for; under 0.05 counts as heard",
  "  order         frequency over the drum's turns per second",
  "  dB of a tone  over its surroundings",
  "  speed-locked  the tone moves with the drum; line-locked: with the mains; fixed: with neither;",
  "                resonance: a fixed peak wider than a tone; undetermined: the speed is too steady",
  "  missing       could not be measured, for the reason given; it counts neither way",
];

/** The figures behind an answer, one block a recording and a legend, for people who want to check. */
export const figuresText = (figures: readonly RecordingFigures[]): string =>
  `${[...figures.flatMap(figuresOfOne), ...LEGEND].join("\n")}\n`;
