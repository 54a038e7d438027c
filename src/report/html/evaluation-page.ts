import { hundredFigure } from "../../foundation/chance-words.js";
import type { Confusion } from "../../evaluation/confusion.js";
import { proportion, type Proportion } from "../../evaluation/proportion.js";
import type { Evaluation, RankingScores } from "../../evaluation/scores.js";
import { confusionPicture } from "../picture/confusion-picture.js";
import { reliabilityPicture } from "../picture/reliability-picture.js";
import { dataTable, figure, type FigureTable } from "./figure.js";
import { html, type Markup } from "./markup.js";
import { page, type PageSection } from "./page.js";

/** From this many cases on a tenth of a percent means something. */
const TENTHS_FROM = 200;

const bare = (share: number, n: number): string => hundredFigure(share, n >= TENTHS_FROM ? 1 : 0);

const percent = (share: number, n: number): string =>
  Number.isNaN(share) ? "–" : `${bare(share, n)}\u00a0%`;

const interval = ({ low, high, n }: Proportion): string =>
  n === 0 ? "–" : `${bare(low, n)} to ${bare(high, n)}\u00a0%`;

const shareRow = (name: string, share: Proportion): string[] => [
  name,
  percent(share.value, share.n),
  interval(share),
  String(share.n),
];

function sharesTable({ ranking, spinSpeed, ...all }: Evaluation): FigureTable {
  return {
    columns: ["figure", "share", "95 % interval", "cases"],
    rows: [
      shareRow("top-1, answered washers", ranking.top1),
      shareRow("top-3, answered washers", ranking.top3),
      shareRow("answered instead of abstaining", ranking.answerRate),
      shareRow("90 % prediction set holds the cause", all.predictionSet.cover),
      shareRow("character right", all.characterRight),
      shareRow("normal machine called faulty", all.normalCalledFaulty),
      shareRow("sound of no washer diagnosed", all.otherSoundsDiagnosed),
      shareRow("drum speed within 1 %, all phases", all.speed.withinOnePercent),
      shareRow("drum speed within 1 %, spin", spinSpeed.withinOnePercent),
      shareRow("octave errors of the speed, spin", spinSpeed.octaveErrors),
      shareRow("drum speed answered, spin", spinSpeed.answered),
      shareRow("90 % interval holds the speed, spin", spinSpeed.intervalCover),
    ],
  };
}

function sliceMarkup(name: string, slice: Readonly<Record<string, RankingScores>>): Markup {
  const table = {
    columns: [name, "top\u20111", "top\u20113", "answered", "cases"],
    rows: Object.entries(slice).map(([key, { top1, top3, answerRate }]) => [
      key,
      percent(top1.value, top1.n),
      percent(top3.value, top3.n),
      percent(answerRate.value, answerRate.n),
      String(answerRate.n),
    ]),
  };
  return html`<h3>By ${name}</h3>
    ${dataTable(table, `Shares by ${name}`)}`;
}

function reliabilityFigure({ calibration }: Evaluation): Markup {
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
    interval of the share that was right, its size the number of answers. Mean distance from the
    dashed line (expected calibration error, groups of equal size): ${ece.value.toFixed(3)}, 95 %
    interval ${ece.low.toFixed(3)} to ${ece.high.toFixed(3)}. Brier score ${brier.toFixed(3)}. ${n}
    answers.`,
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

function headline({ ranking: { top1, top3 } }: Evaluation): string {
  if (top1.n === 0) return "No recording was answered";
  return `${percent(top1.value, top1.n)} right first, ${percent(top3.value, top3.n)} among the first three`;
}

/** An evaluation as one self-contained HTML file. */
export function evaluationPage(evaluation: Evaluation): string {
  const { top1, top3, answerRate } = evaluation.ranking;
  const sections: PageSection[] = [
    {
      id: "shares",
      title: "Shares",
      lead: "Each with its 95 % interval (Wilson) and the number of cases it stands on.",
      body: dataTable(sharesTable(evaluation), "Shares"),
    },
    {
      id: "claims",
      title: "Claims",
      lead: "Whether 70 in 100 means 70 in 100.",
      body: reliabilityFigure(evaluation),
    },
    {
      id: "mistakes",
      title: "Mistakes",
      lead: "What is taken for what.",
      body: html`${confusionFigure("parts", "Parts", evaluation.components)}${confusionFigure(
        "characters",
        "Character of the sound",
        evaluation.characters,
      )}`,
    },
    {
      id: "slices",
      title: "By group",
      lead: "The same shares, by what the recordings differ in.",
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
      </p>`,
    sections,
    footer: html`<p>Shares hold for the recordings they were measured on, and for no others.</p>`,
  });
}
