import { hundredFigure } from "../../foundation/chance-words.js";
import type { Confusion } from "../../evaluation/confusion.js";
import { proportion, type Proportion } from "../../evaluation/proportion.js";
import type { Evaluation, RankingScores } from "../../evaluation/scores.js";
import { confusionPicture } from "../picture/confusion-picture.js";
import { reliabilityPicture } from "../picture/reliability-picture.js";
import { dataTable, figure, type FigureTable } from "./figure.js";
import { html, type Markup, type Piece } from "./markup.js";
import { page, type PageSection } from "./page.js";

/** From this many cases on a tenth of a percent means something. */
const TENTHS_FROM = 200;

const bare = (share: number, n: number): string => hundredFigure(share, n >= TENTHS_FROM ? 1 : 0);

const percent = (share: number, n: number): string =>
  Number.isNaN(share) ? "–" : `${bare(share, n)}\u00a0%`;

const interval = ({ low, high, n }: Proportion): string =>
  n === 0 ? "–" : `${bare(low, n)} to ${bare(high, n)}\u00a0%`;

/** What a figure is, of which recordings, and which way is better. */
const figureName = (name: string, of: string, better: "high" | "low"): Markup =>
  html`${name}<br /><span class="soft"
      >${of}${better === "low" ? "; the lower, the better" : null}</span
    >`;

const shareRow = (name: string, of: string, better: "high" | "low", share: Proportion): Piece[] => [
  figureName(name, of, better),
  percent(share.value, share.n),
  interval(share),
  String(share.n),
];

const ANSWERED = "of answered washers";
const SPINS = "of washers in the spin whose speed is known";

function sharesTable({ ranking, spinSpeed, ...all }: Evaluation): FigureTable {
  const { top1, top3, answerRate } = ranking;
  const mean = "mean over true parts, each counted once";
  const bareRow = (name: string, share: number): Piece[] => [
    figureName(name, ANSWERED, "high"),
    percent(share, top1.n),
    "–",
    String(top1.n),
  ];
  return {
    columns: ["figure", "share", "95 % interval", "cases"],
    rows: [
      shareRow("right part first (top\u20111)", ANSWERED, "high", top1),
      shareRow("right part among the first three (top\u20113)", ANSWERED, "high", top3),
      bareRow(`top\u20111, ${mean}`, ranking.macroTop1),
      bareRow(`top\u20113, ${mean}`, ranking.macroTop3),
      shareRow("answered instead of abstaining", "of all washers", "high", answerRate),
      shareRow("cause inside the 90 % list of parts", ANSWERED, "high", all.predictionSet.cover),
      shareRow(
        "character of the noise right",
        "of washers whose character is known",
        "high",
        all.characterRight,
      ),
      shareRow("called faulty", "of washers in order", "low", all.normalCalledFaulty),
      shareRow("part named", "of sounds of no washer", "low", all.otherSoundsDiagnosed),
      shareRow(
        "drum speed within 1 %",
        "of washers whose speed is known",
        "high",
        all.speed.withinOnePercent,
      ),
      shareRow("drum speed within 1 %", SPINS, "high", spinSpeed.withinOnePercent),
      shareRow(
        "drum speed a half, a third, two or three times as high",
        SPINS,
        "low",
        spinSpeed.octaveErrors,
      ),
      shareRow("drum speed answered", SPINS, "high", spinSpeed.answered),
      shareRow(
        "90 % interval holds the speed",
        "of those with an answer",
        "high",
        spinSpeed.intervalCover,
      ),
    ],
  };
}

function sharesMarkup(evaluation: Evaluation): Markup {
  const { meanSize } = evaluation.predictionSet;
  return html`${dataTable(sharesTable(evaluation), "Shares")}${
    Number.isNaN(meanSize)
      ? null
      : html`<p class="soft">
          The 90 % list of parts names ${meanSize.toFixed(1)} parts on average: the shorter, the
          better, as long as it holds the cause.
        </p>`
  }`;
}

/** Below this many cases a percentage says more than there is. */
const COUNTS_BELOW = 20;

const ofGroup = ({ value, hits, n }: Proportion): string => {
  if (n === 0) return "–";
  return n < COUNTS_BELOW ? `${hits} of ${n}` : `${percent(value, n)} of ${n}`;
};

const SLICE_NAMES: Readonly<Record<string, string>> = {
  component: "true part",
  phase: "phase",
  machine: "kind of machine",
  codec: "codec",
  level: "level of the fault over the rest of the sound",
};

function sliceMarkup(key: string, slice: Readonly<Record<string, RankingScores>>): Markup {
  const name = SLICE_NAMES[key] ?? key;
  const table = {
    columns: [name, "top\u20111", "top\u20113", "answered"],
    rows: Object.entries(slice).map(([value, { top1, top3, answerRate }]) => [
      value,
      ofGroup(top1),
      ofGroup(top3),
      ofGroup(answerRate),
    ]),
  };
  return html`<h3>By ${name}</h3>
    ${dataTable(table, `Shares by ${name}`)}`;
}

function reliabilityFigure({ calibration, areaUnderRisk }: Evaluation): Markup {
  if (calibration === null)
    return html`<p class="soft">
      No recording was answered, so there is nothing to set against the claims.
    </p>`;
  const points = calibration.bins.map((bin) => {
    const { low, high } = proportion(Math.round(bin.right * bin.n), bin.n);
    return { ...bin, low, high };
  });
  const { ece, brier, n } = calibration;
  return figure({
    id: "reliability",
    title: "Can the chances be believed?",
    draw: (width) => reliabilityPicture(points, width),
    caption: html`Each dot is a group of answers with about the same claim; its line is the 95 %
    interval of the share that was right, its size the number of answers. A dot above the dashed
    line: right more often than claimed; below: less often. Mean distance from the line (expected
    calibration error, groups of equal size): ${ece.value.toFixed(3)}, 95 % interval
    ${ece.low.toFixed(3)} to ${ece.high.toFixed(3)}. Brier score ${brier.toFixed(3)}, area under the
    risk-coverage curve ${areaUnderRisk.toFixed(3)}; of all three 0 is perfect. ${n} answers.`,
    table: {
      columns: ["claimed", "right", "95 % interval", "answers"],
      rows: points.map(({ claimed, right, low, high, n: count }) => [
        percent(claimed, count),
        percent(right, count),
        `${bare(low, count)} to ${bare(high, count)}\u00a0%`,
        String(count),
      ]),
    },
  });
}

const confusionFigure = (id: string, title: string, confusion: Confusion): Markup =>
  figure({
    id,
    title,
    draw: (width) => confusionPicture(confusion, width),
    caption: html`Rows are the truth, columns the answer; numbers are recordings, darker is a larger
    share of the row, framed cells are right. “(none)” is an abstention.`,
    table: {
      columns: ["truth", ...confusion.columns],
      rows: confusion.rows.map((row, r) => [row, ...confusion.counts[r]!.map(String)]),
    },
  });

/** What the program was told, and what could not be scored. */
export interface EvaluationTold {
  readonly tell?: "machine-and-phase" | "nothing";
  /** Recordings that could not be scored. @defaultValue 0 */
  readonly failed?: number;
}

const TOLD = {
  "machine-and-phase": "The program was told the kind of machine and the phase.",
  nothing: "The program was told nothing but the recording.",
} as const;

function circumstances({ tell, failed = 0 }: EvaluationTold): string {
  const left =
    failed === 0
      ? ""
      : ` ${failed} ${failed === 1 ? "recording" : "recordings"} could not be scored and ${failed === 1 ? "is" : "are"} not counted.`;
  return `${tell === undefined ? "" : TOLD[tell]}${left}`.trim();
}

function headline({ ranking: { top1, top3 } }: Evaluation): string {
  if (top1.n === 0) return "No recording was answered";
  return `${percent(top1.value, top1.n)} right first, ${percent(top3.value, top3.n)} among the first three`;
}

/** An evaluation as one self-contained HTML file. */
export function evaluationPage(evaluation: Evaluation, told: EvaluationTold = {}): string {
  const how = circumstances(told);
  const { top1, top3, answerRate } = evaluation.ranking;
  const sections: PageSection[] = [
    {
      id: "shares",
      title: "Shares",
      lead: "Each with its 95 % interval (Wilson) and the number of cases it stands on; the higher, the better, unless it says otherwise.",
      body: sharesMarkup(evaluation),
    },
    {
      id: "claims",
      title: "Claims",
      lead: "Whether a chance of 70 in 100 is right 70 times in 100.",
      body: reliabilityFigure(evaluation),
    },
    {
      id: "mistakes",
      title: "Mistakes",
      lead: "What is taken for what: parts and characters by the names that truth files use.",
      body: html`${confusionFigure("parts", "Parts", evaluation.components)}${confusionFigure(
        "characters",
        "Character of the sound",
        evaluation.characters,
      )}`,
    },
    {
      id: "slices",
      title: "By group",
      lead: "The same shares, by what the recordings differ in. Few cases are counted, not turned into percent; top\u20111 and top\u20113 are of those that were answered.",
      body: html`${Object.entries(evaluation.slices).map(([name, slice]) => sliceMarkup(name, slice))}`,
      foldable: true,
    },
  ];
  return page({
    title: "Evaluation over labelled recordings",
    masthead: html`<p class="over">Evaluation over ${evaluation.recordings} labelled recordings</p>
      <h1>${headline(evaluation)}</h1>
      <p class="claim">
        Of ${top1.n} answered recordings; 95 % intervals ${interval(top1)} and ${interval(top3)}.
        The program answered ${percent(answerRate.value, answerRate.n)} of the washers and abstained
        from the rest.
      </p>
      ${how === "" ? null : html`<p>${how}</p>`}`,
    sections,
    footer: html`<p>Shares hold for the recordings they were measured on, and for no others.</p>`,
  });
}
