import { capital } from "../../foundation/first-letter.js";
import type { ComparisonPictures, PairedLine } from "../../answer/compare-picture-data.js";
import type { LineMark, SpectrogramData } from "../../answer/picture-data.js";
import { hertz, plain } from "../picture/axes.js";
import { bandsPicture } from "../picture/bands-picture.js";
import { FAMILY_WORDS } from "../picture/marks.js";
import { modulationPicture } from "../picture/modulation-picture.js";
import { numbered, orderPicture } from "../picture/order-picture.js";
import {
  spectrogramImage,
  spectrogramPicture,
  spectrogramTable,
} from "../picture/spectrogram-picture.js";
import { signed } from "../signed.js";
import { figure, type FigureTable } from "./figure.js";
import { html, type Markup } from "./markup.js";

const COLUMN = 402;

function spectrogramPair({ spectrograms }: ComparisonPictures): Markup {
  // Lines that were not heard would hide half of a small picture.
  const heard = (data: SpectrogramData): SpectrogramData => ({
    ...data,
    lines: data.lines.filter((line) => line.heard),
  });
  const sides = [
    { title: "Before", data: heard(spectrograms.before), image: "sound-before" },
    { title: "After", data: heard(spectrograms.after), image: "sound-after" },
  ];
  const draw = (width: number): Markup => {
    const each = width < 500 ? width : COLUMN;
    const drawings = sides.map(
      ({ title, data, image }) =>
        html`<div>
          <p>${title}</p>
          ${spectrogramPicture(data, image, each)}
        </div>`,
    );
    return width < 500 ? html`${drawings}` : html`<div class="pair">${drawings}</div>`;
  };
  const tables = sides.map(({ title, data }) => ({ title, ...spectrogramTable(data) }));
  const wide = Math.max(...tables.map(({ columns }) => columns.length));
  return html`${sides.map(({ data, image }) => spectrogramImage(data, image))}${figure({
    id: "spectrograms",
    title: "Loudness by time and pitch, before and after",
    draw,
    caption: html`Darker is louder; both pictures use the same colours and the same pitches. 0 dB is
    the middle of each recording’s own spectrum, so that distance and volume play no part. Lines
    over the picture are the drum’s speed and tones that were heard.`,
    table: {
      columns: [
        "octave around, Hz",
        ...Array.from({ length: wide - 1 }, (_, i) => `part ${i + 1}`),
      ],
      rows: tables.flatMap(({ title, columns, rows }) => [
        [`${title}, dB`, ...columns.slice(1).map((column) => column.replace(", dB", ""))],
        ...rows,
      ]),
    },
  })}`;
}

function bandsFigure({ bands, noiseBandHz }: ComparisonPictures): Markup | null {
  if (bands.length < 2) return null;
  return figure({
    id: "bands",
    title: "Spectra of both",
    draw: (width) => bandsPicture(bands, noiseBandHz, width),
    caption: html`Mean level of each third octave; 0 dB is the middle of each recording’s own
    spectrum. Full line: before; dashed line: after. Where only the distance of the phone changed,
    both lie on each other; another phone or place bends one against the other slowly.
    ${noiseBandHz === null ? null : "The shaded pitches are those in which such a noise is heard best."}`,
    table: {
      columns: ["third octave, Hz", "before, dB", "after, dB", "change, dB"],
      rows: bands.map(({ midHz, beforeDb, afterDb }) => [
        hertz(midHz),
        signed(beforeDb),
        signed(afterDb),
        signed(afterDb - beforeDb),
      ]),
    },
  });
}

const small = (p: number | null): string => {
  if (p === null) return "–";
  return p < 0.001 ? p.toExponential(0) : p.toFixed(3);
};

const linesTable = (lines: readonly PairedLine[], unit: string): FigureTable => ({
  columns: [
    "line",
    "part",
    unit,
    "before, dB",
    "after, dB",
    "heard before",
    "heard after",
    "p before",
    "p after",
  ],
  rows:
    lines.length === 0
      ? [["no line was heard in either", ..."–".repeat(8)]]
      : lines.map(({ label, family, place, before, after }) => [
          capital(label),
          FAMILY_WORDS[family],
          place.toFixed(2),
          before.overDb.toFixed(1),
          after.overDb.toFixed(1),
          before.heard ? "yes" : "no",
          after.heard ? "yes" : "no",
          small(before.pAdjusted),
          small(after.pAdjusted),
        ]),
});

// Below its surroundings a line is not drawn.
const height = (db: number): string => Math.max(0, db).toFixed(0);

function heardKey(
  marks: readonly LineMark[],
  lines: readonly PairedLine[],
  unit: (place: number) => string,
): Markup | null {
  const heard = numbered(marks);
  if (heard.length === 0) return null;
  const said = ({ label, place }: LineMark): string => {
    const line = lines.find((one) => one.label === label);
    const change =
      line === undefined
        ? ""
        : `: ${height(line.before.overDb)} dB before, ${height(line.after.overDb)} dB after`;
    return `${capital(label)}, ${unit(place)}${change}`;
  };
  return html`<ul class="key">
    ${heard.map((mark, i) => html`<li><b>${i + 1}</b>${said(mark)}</li>`)}
  </ul>`;
}

function orderPair({ orders, speedTaken, lines }: ComparisonPictures): Markup | null {
  if (orders === null) return null;
  const { before, after } = orders;
  return figure({
    id: "orders",
    title: "What beats with the drum, before and after",
    draw: (width) => orderPicture(before, width, after.curve),
    key: heardKey(before.marks, lines, (place) => `${place.toFixed(2)} beats a turn`),
    caption: html`How strongly the sound swells and fades, by swells per turn of the drum
    (${plain(before.drumHz * 60)} rpm before, ${plain(after.drumHz * 60)} rpm after), over the
    surroundings of each line.
    ${speedTaken === null ? null : `The drum’s speed was not heard ${speedTaken} the repair: it is drawn at the other recording’s speed.`}
    Numbers and signs are those of the recording before: red was heard, hollow was not.`,
    table: linesTable(lines, "beats per turn"),
  });
}

function beatsPair({ modulation, lines }: ComparisonPictures): Markup {
  const unknown = "The drum’s speed is not known, so that beats per turn cannot be drawn.";
  if (modulation === null) {
    return html`<p class="soft">
      ${unknown} Beats per second are not drawn either: a recording holds too little usable sound
      above 500 Hz.
    </p>`;
  }
  const { before, after } = modulation;
  return figure({
    id: "beats",
    title: "Beats per second, before and after",
    draw: (width) => modulationPicture(before, width, after),
    key: heardKey(before.marks, lines, (place) => `${plain(place)} Hz`),
    caption: html`How strongly four octaves of the sound swell and fade, by swells per second;
    filled before, line after. ${unknown}`,
    table: linesTable(lines, "Hz"),
  });
}

/** Both recordings on common scales: spectrograms, spectra, what beats with the drum, beats a second. */
export const changeFigures = (pictures: ComparisonPictures): Markup =>
  html`${bandsFigure(pictures)}${orderPair(pictures)}${pictures.orders === null ? beatsPair(pictures) : null}${spectrogramPair(pictures)}`;
