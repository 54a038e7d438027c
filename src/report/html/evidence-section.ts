import { capital } from "../../foundation/first-letter.js";
import type { AnsweredRecording, RecordingFigures } from "../../answer/answer.js";
import type { LineMark, RecordingPictures, SpectrogramData } from "../../answer/picture-data.js";
import type { Measurement } from "../../evidence/evidence.js";
import { FEATURES } from "../../evidence/features.data.js";
import { plain } from "../picture/axes.js";
import { FAMILY_WORDS } from "../picture/marks.js";
import { levelPicture } from "../picture/level-picture.js";
import { modulationPicture } from "../picture/modulation-picture.js";
import { numbered, orderPicture } from "../picture/order-picture.js";
import {
  isSeen,
  spectrogramImage,
  spectrogramPicture,
  spectrogramTable,
} from "../picture/spectrogram-picture.js";
import { dataTable, figure } from "./figure.js";
import { html, type Markup, type Piece } from "./markup.js";
import { CHARACTER_WORDS, phaseWords, rpmWords, speedNotes, fileName } from "./words.js";

const small = (p: number): string => (p < 0.001 ? p.toExponential(0) : p.toFixed(3));

const heardWords = (mark: LineMark): string => {
  if (mark.pAdjusted === null) return "not looked for";
  if (mark.heard) return "yes";
  if (mark.hint) return "alone, yes";
  return mark.confounded ? "falls on another line" : "no";
};

const markRows = (marks: readonly LineMark[], unit: "order" | "Hz"): Piece[][] =>
  [...marks]
    .sort((a, b) => (a.pAdjusted ?? 2) - (b.pAdjusted ?? 2) || a.place - b.place)
    .map((mark) => [
      mark.label,
      FAMILY_WORDS[mark.family],
      ...(unit === "order" ? [mark.place.toFixed(2)] : []),
      plain(mark.hz),
      heardWords(mark),
      mark.pAdjusted === null ? "–" : small(mark.pAdjusted),
    ]);

function markKey(marks: readonly LineMark[], say: (mark: LineMark) => string): Markup | null {
  const heard = numbered(marks);
  if (heard.length === 0) return null;
  return html`<ul class="key">
    ${heard.map((mark, i) => html`<li><b>${i + 1}</b>${capital(mark.label)}: ${say(mark)}</li>`)}
  </ul>`;
}

function drumWords(spectrogram: SpectrogramData): string {
  const { drum } = spectrogram;
  if (drum === null) {
    return "The drum's speed could not be heard, so lines that follow the drum cannot be drawn.";
  }
  return isSeen(drum, spectrogram)
    ? "The line of the drum is its speed: one beat a turn."
    : "The drum turns more slowly than this picture reaches; its speed is drawn under the level.";
}

function spectrogramFigure({ spectrogram }: RecordingPictures, n: number): Markup {
  const image = `sound-image-${n}`;
  return html`${spectrogramImage(spectrogram, image)}${figure({
    id: `spectrogram-${n}`,
    title: "Loudness by time and pitch",
    draw: (width) => spectrogramPicture(spectrogram, image, width),
    caption: html`Darker is louder. Full lines were heard in this recording; dashed ones are where
    the machine could sound and nothing stands out. ${drumWords(spectrogram)}`,
    table: spectrogramTable(spectrogram),
  })}`;
}

function orderFigure(
  { orders }: RecordingPictures,
  recording: AnsweredRecording,
  n: number,
): Markup {
  if (orders === null) {
    const why =
      recording.speed.drumRpm === null
        ? "the speed of the drum could not be heard and was not told"
        : "the drum makes too few turns in it";
    return html`<p class="soft">
      Beats per drum turn are not drawn for this recording: ${why}. The beats per second stand in
      the next picture.
    </p>`;
  }
  return figure({
    id: `orders-${n}`,
    title: "What beats with the drum, and whose beat it is",
    draw: (width) => orderPicture(orders, width),
    key: markKey(
      orders.marks,
      ({ place, hz }) => `${place.toFixed(2)} beats a turn, ${plain(hz)} a second`,
    ),
    caption: html`How strongly the sound swells and fades, by swells per turn of the drum
    (${plain(orders.drumHz * 60)} rpm). Below, a row for each kind of part: the bars are where its
    damage or its turning would show. Red signs were heard; grey ones stand out alone, but not among
    everything that was looked for; hollow ones were not heard. Signs of pump and mains stand where
    they fall at this speed. 0 dB is the mean of each line's surroundings.`,
    table: {
      columns: ["line", "part", "beats per turn", "Hz", "heard", "p after Holm"],
      rows: markRows(orders.marks, "order"),
    },
  });
}

function modulationFigure({ modulation }: RecordingPictures, n: number): Markup {
  if (modulation === null) {
    return html`<p class="soft">
      Beats per second are not drawn: the recording holds too little usable sound above 500 Hz.
    </p>`;
  }
  return figure({
    id: `beats-${n}`,
    title: "Beats per second, octave by octave",
    draw: (width) => modulationPicture(modulation, width),
    key: markKey(modulation.marks, ({ hz }) => `${plain(hz)} Hz`),
    caption: html`How strongly four octaves of the sound swell and fade, by swells per second. A
    worn part beats in the octaves in which its metal rings; the mains beats in all of them. While
    the drum changes speed its lines smear here, and they are marked only where it holds one speed
    for a while.`,
    table: {
      columns: ["line", "part", "Hz", "heard", "p after Holm"],
      rows: markRows(modulation.marks, "Hz"),
    },
  });
}

function levelFigure(
  { level }: RecordingPictures,
  recording: AnsweredRecording,
  n: number,
): Markup {
  const step = Math.max(1, Math.round(level.wholeDb.length / 20));
  const rows = Array.from({ length: Math.floor(level.wholeDb.length / step) }, (_, i) => {
    const at = i * step;
    const seconds = at * level.hopSeconds;
    const stretch = level.stretches.find(({ toSeconds }) => seconds < toSeconds);
    const rpm = level.speed.findLast((point) => point.seconds <= seconds)?.rpm ?? null;
    return [
      seconds.toFixed(1),
      ...[level.wholeDb, level.lowDb, level.highDb].map((levels) => levels[at]!.toFixed(0)),
      rpm === null ? "–" : rpm.toFixed(0),
      stretch?.state ?? "speed not heard",
    ];
  });
  return figure({
    id: `level-${n}`,
    title: "Level over time, and what the drum does",
    draw: (width) => levelPicture(level, phaseWords(recording), width),
    caption: html`Level of the whole sound and of two parts of it.
    ${
      level.unused.length > 0
        ? "Shaded stretches were not used: silence, speech or a hand on the phone."
        : "All of the recording was used."
    }
    ${level.impacts.length > 0 ? `Ticks at the bottom are ${level.impacts.length} single knocks.` : ""}`,
    table: {
      columns: ["time, s", "all, dB", "below 500 Hz, dB", "above 2 kHz, dB", "drum, rpm", "drum"],
      rows,
    },
  });
}

function valueWords({ value, missing }: Measurement, unit: string): string {
  if (value === null) return `missing (${missing ?? "not seen"})`;
  const digits = Math.abs(value) >= 100 ? value.toFixed(0) : value.toPrecision(3);
  return unit === "ratio" ? digits : `${digits} ${unit}`;
}

function figuresTables(figures: RecordingFigures): Markup {
  const observed = {
    columns: ["observation", "value", "trust", "what it is"],
    rows: FEATURES.map(({ id, unit, meaning }) => {
      const one = figures.features[id];
      return [
        id,
        valueWords(one, unit),
        one.value === null ? "–" : one.quality.toFixed(2),
        meaning,
      ];
    }),
  };
  const tones = {
    columns: ["Hz", "over surroundings, dB", "per drum turn", "follows"],
    rows: figures.tones.map(({ hz, prominenceDb, drumOrder, scaling }) => [
      plain(hz),
      prominenceDb.toFixed(1),
      drumOrder === null ? "–" : drumOrder.toFixed(2),
      scaling,
    ]),
  };
  return html`<details class="numbers">
      <summary>All observations of this recording</summary>
      ${dataTable(observed, "All observations")}
    </details>
    ${
      figures.tones.length === 0
        ? null
        : html`<details class="numbers">
            <summary>Strongest tones</summary>
            ${dataTable(tones, "Strongest tones")}
          </details>`
    }`;
}

function factsOf(recording: AnsweredRecording): Markup {
  const { speed, bandHz, channels } = recording;
  const rows: [string, Piece][] = [
    ["file", fileName(recording.file)],
    ["length", `${recording.durationSeconds.toFixed(1)} s`],
    [
      "format",
      `${recording.codec}, ${recording.sampleRateHz} Hz, ${channels === 1 ? "one channel" : `${channels} channels`}`,
    ],
    ["usable pitch", `${plain(bandHz[0])} Hz to ${(bandHz[1] / 1000).toFixed(1)} kHz`],
    ["phase", phaseWords(recording)],
    ["sound", CHARACTER_WORDS[recording.character.label]],
    ["drum speed", speed.drumRpm === null ? "not heard" : rpmWords(speed.drumRpm)],
    ["motor speed", speed.motorRpm === null ? "not heard" : rpmWords(speed.motorRpm)],
    ["mains", speed.lineHz === null ? "not heard" : `${speed.lineHz} Hz`],
    ["SHA-256", html`<span class="name">${recording.sha256}</span>`],
  ];
  const notes = [...speedNotes(speed), ...recording.problems.map(({ message }) => message)];
  return html`<dl class="rows">
      ${rows.map(
        ([name, value]) =>
          html`<dt>${name}</dt>
            <dd>${value}</dd>`,
      )}
    </dl>
    ${
      notes.length === 0
        ? null
        : html`<ul class="plain">
            ${notes.map((note) => html`<li>${note}</li>`)}
          </ul>`
    }`;
}

// Of a very long recording the loudest stretch is listened to, and times count from its start.
const stretchNote = ({ level }: RecordingPictures, { durationSeconds }: AnsweredRecording) =>
  durationSeconds - level.seconds > 1
    ? html`<p class="soft">
        The pictures and clips show the loudest ${(level.seconds / 60).toFixed(0)} minutes of this
        recording; times count from their start.
      </p>`
    : null;

/** Why a recording has no pictures. */
export type Missing = "no room" | "not made";

const WHY_MISSING: Readonly<Record<Missing, string>> = {
  "no room":
    "The pictures of this recording were left out to keep the file small enough to mail. Diagnose it alone to see them.",
  "not made":
    "This page was made from the kept answer, without the recording: it has no pictures and no clips. Diagnose the recording with --html to get them.",
};

/** One recording: what it is, its pictures, its figures. Pictures left out are said to be. */
export function recordingEvidence(
  recording: AnsweredRecording,
  figures: RecordingFigures | undefined,
  pictures: RecordingPictures | Missing,
  n: number,
): Markup {
  return html`<h3>Recording ${n}: ${fileName(recording.file)}</h3>
    ${factsOf(recording)}${
      typeof pictures === "string"
        ? html`<p class="soft">${WHY_MISSING[pictures]}</p>`
        : html`${stretchNote(pictures, recording)}${spectrogramFigure(pictures, n)}${orderFigure(pictures, recording, n)}${modulationFigure(pictures, n)}${levelFigure(pictures, recording, n)}`
    }${figures === undefined ? null : figuresTables(figures)}`;
}
