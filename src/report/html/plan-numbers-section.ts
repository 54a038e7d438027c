import { capital } from "../../foundation/first-letter.js";
import { percent } from "../../foundation/chance-words.js";
import type { NextStep } from "../../inspection/next-step/next-step-answer.js";
import { partInSentence } from "../../diagnosis/part-words.js";
import { planPicture, type PlanPoint } from "../picture/plan-picture.js";
import { checkTitle } from "./check-titles.js";
import { dataTable, figure } from "./figure.js";
import { html, type Markup } from "./markup.js";
import type { NextCheckPageInput } from "./next-check-input.js";
import { partName } from "./words.js";

function pointsOf({ nextChecks }: NextStep): PlanPoint[] {
  let minutes = 0;
  return nextChecks.map((check) => {
    minutes += check.minutes;
    return { minutes, foundBy: check.foundBy };
  });
}

function planFigure(answer: NextStep): Markup | null {
  const points = pointsOf(answer);
  if (points.length === 0) return null;
  const proven = answer.exact
    ? "No other order of these checks needs fewer minutes on average; that is proven."
    : "The order is good, but not proven to be the best.";
  return figure({
    id: "plan",
    title: "How soon the part is found",
    draw: (width) => planPicture(points, answer.expectedMinutes, width),
    caption: html`Each number is a check of the plan, at the minute it ends. The dashed line is the
    mean of the minutes over the cases in which one of these checks finds the part. ${proven}`,
    table: {
      columns: [
        "check",
        "minutes",
        "of it the test",
        "minutes so far",
        "found by then",
        "where it comes from",
      ],
      rows: answer.nextChecks.map((check, i) => [
        html`${i + 1}. ${checkTitle(check.check)} <span class="name soft">${check.check}</span>`,
        String(Math.round(check.minutes)),
        String(check.ownMinutes),
        String(Math.round(points[i]!.minutes)),
        percent(check.foundBy),
        `${check.source} (${check.provenance})`,
      ]),
    },
  });
}

function separatingWords({ separating, nextChecks }: NextStep): string | null {
  if (separating === null) return null;
  const [a, b] = separating.between.map(partInSentence);
  const place = nextChecks.findIndex(({ check }) => check === separating.check);
  const step = place < 0 ? "" : `, step ${place + 1} of the plan`;
  return `${capital(a!)} and ${b} are best told apart by “${checkTitle(separating.check)}”${step}.`;
}

const nats = (value: number): string =>
  `${value < 0 ? "\u2212" : "+"}${Math.abs(value).toFixed(2)}`;

function findingsTable({ findings }: NextStep): Markup | null {
  if (findings.length === 0) return null;
  const rows = findings.flatMap(({ check, outcome, at, ...moved }) => {
    const name = html`<span class="name">${check}=${outcome}</span>`;
    const all = [...moved.for, ...moved.against];
    return all.length === 0
      ? [[name, at, "–", "–"]]
      : all.map(({ component, nats: weight }) => [name, at, partName(component), nats(weight)]);
  });
  return html`<h3>What each finding weighs</h3>
    ${dataTable({ columns: ["finding", "told at", "part", "nats of log-odds"], rows }, "What each finding weighs")}`;
}

function chancesTable(answer: NextStep): Markup {
  const moved = answer.findings.length > 0;
  const table = {
    columns: ["part", "chance now", ...(moved ? ["before the findings"] : [])],
    rows: answer.components.map(({ component, probability, before }) => [
      partName(component),
      percent(probability),
      ...(moved ? [percent(before)] : []),
    ]),
  };
  return html`<h3>Chances of all parts</h3>
    ${dataTable(table, "Chances of all parts")}`;
}

function outcomesTable({ answer, outlooks }: NextCheckPageInput): Markup | null {
  if (outlooks.length === 0) return null;
  const rows = outlooks.flatMap(({ check, outcomes }) =>
    outcomes.map(({ outcome, chance, parts, next, stop }) => [
      html`<span class="name">${check}=${outcome}</span>`,
      percent(chance),
      parts
        .slice(0, 3)
        .map(({ component, probability }) => `${partName(component)} ${percent(probability)}`)
        .join(", "),
      stop ?? (next === null ? "–" : html`<span class="name">${next}</span>`),
    ]),
  );
  return html`<details class="numbers">
    <summary>
      Outcomes of the first ${Math.min(outlooks.length, answer.nextChecks.length)} checks
    </summary>
    ${dataTable({ columns: ["outcome", "how often", "chances then", "next"], rows }, "Outcomes of the first checks")}
  </details>`;
}

/** The plan's figures: minutes, chances, what findings weigh, where it all comes from. */
export function planNumbers(input: NextCheckPageInput): Markup {
  const { answer } = input;
  const separating = separatingWords(answer);
  return html`<p>Starts from: ${answer.basis.text}</p>
    ${separating === null ? null : html`<p>${separating}</p>`}${planFigure(answer)}${outcomesTable(input)}${findingsTable(answer)}${chancesTable(answer)}`;
}
