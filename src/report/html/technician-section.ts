import { capital } from "../../foundation/first-letter.js";
import { percent } from "../../foundation/chance-words.js";
import type { Answer } from "../../answer/answer.js";
import type { DiagnosedComponent } from "../../diagnosis/diagnose.js";
import type { Pictures, RankingRow, VisitFacts } from "../../answer/picture-data.js";
import { oddsInWords } from "../odds.js";
import { seemingContradictions } from "../seeming-contradictions.js";
import { rankingPicture } from "../picture/ranking-picture.js";
import { dataTable, figure } from "./figure.js";
import { html, type Markup } from "./markup.js";
import { partName, withCondition } from "./words.js";

const visitMarkup = ({ openFirst, bring, tools }: VisitFacts): Markup =>
  html`<dl class="facts">
    <div>
      <dt>Open first</dt>
      <dd>${openFirst}</dd>
    </div>
    <div>
      <dt>Bring</dt>
      <dd>
        ${
          bring.length > 0
            ? `${capital(bring.join(", "))}.`
            : "No part on this suspicion alone: confirm by hand, then order."
        }
        ${tools.length > 0 ? `Besides the usual tools: ${tools.join(", ")}.` : null}
      </dd>
    </div>
  </dl>`;

function checksMarkup(answer: Answer): Markup | null {
  if (answer.nextChecks.length === 0) return null;
  const normal = answer.verdict.label === "normal-sound";
  return html`<h3>${normal ? "If it has to be checked all the same" : "What decides by hand"}</h3>
    <ol class="steps">
      ${answer.nextChecks.map(
        ({ text, minutes, audience, why }) =>
          html`<li>
            <span class="tag">${minutes} min</span
            ><span class="tag"
              >${audience === "customer" ? "the owner may do it" : "technician"}</span
            ><span class="tag">${why}</span><br />${text}
          </li>`,
      )}
    </ol>`;
}

const cautionsMarkup = (answer: Answer): Markup | null =>
  answer.cautions.length === 0
    ? null
    : html`<h3>Take care</h3>
        <ul class="alarm plain">
          ${answer.cautions.map((text) => html`<li>${text}</li>`)}
        </ul>`;

const strength = (weight: number): string => {
  const size = Math.abs(weight);
  if (size >= 1.5) return "strong";
  return size >= 0.6 ? "moderate" : "weak";
};

function reasonsMarkup(row: DiagnosedComponent): Markup {
  const list = [
    ...row.for.map((reason) => ({ ...reason, side: "for" })),
    ...row.against.map((reason) => ({ ...reason, side: "against" })),
  ];
  const head = html`<h3>
    ${capital(withCondition(row))}: ${percent(row.probability)}, ${oddsInWords(row.probability)}
  </h3>`;
  if (list.length === 0)
    return html`${head}
      <p class="soft">Nothing heard speaks for or against it in particular.</p>`;
  return html`${head}
    <ul class="reasons">
      ${list.map(
        ({ side, text, weight }) =>
          html`<li class="${side}">
            ${text} <span class="reason-weight">(${side} it, ${strength(weight)})</span>
          </li>`,
      )}
    </ul>`;
}

/** Every reason with what it weighs and where it comes from. */
function sourcesMarkup(rows: readonly DiagnosedComponent[]): Markup {
  const table = {
    columns: ["part", "reason", "nats of log-odds", "source"],
    rows: rows.flatMap((row) =>
      [...row.for, ...row.against].map(({ text, weight, source }) => [
        partName(row.component),
        text,
        `${weight > 0 ? "+" : "\u2212"}${Math.abs(weight).toFixed(2)}`,
        source,
      ]),
    ),
  };
  return html`<details class="numbers">
    <summary>Weights and sources of these reasons</summary>
    ${dataTable(table, "Weights and sources")}
  </details>`;
}

/** A longer list helps nobody to decide where to look. */
const MOST_SET_PARTS = 6;
const REASONED_FROM = 0.04;
const RANKED_ROWS = 8;
const MOST_RANKED_ROWS = 14;

/** The ranking drawn with its intervals, and how far down it the cause is to be looked for. */
function rankingFigure(ranking: readonly RankingRow[], { predictionSet }: Answer): Markup {
  const size = predictionSet.components.length;
  const helps = size <= MOST_SET_PARTS;
  const set = helps ? { size, cover: predictionSet.cover } : undefined;
  const shown = ranking.slice(
    0,
    Math.min(MOST_RANKED_ROWS, Math.max(RANKED_ROWS, helps ? size + 1 : 0)),
  );
  const bars = shown.map(({ component, probability, low, high }) => ({
    name: capital(partName(component)),
    chance: probability,
    low,
    high,
  }));
  const rest = ranking.slice(shown.length).reduce((sum, { probability }) => sum + probability, 0);
  return figure({
    id: "ranking",
    title: "Chance of each part",
    draw: (width) => rankingPicture(bars, width, set),
    caption: html`The bar is the chance of the part; the thin line is how far that chance moves when
    any one of the observations is left out. A long line hangs on a single thing heard.
    ${helps ? `In ${percent(predictionSet.cover)} of simulated cases like this the cause was ${size === 1 ? "the first part" : `among the first ${size}`}.` : null}
    ${ranking.length - shown.length} parts that are not drawn share ${percent(rest)}.`,
    table: {
      columns: ["part", "chance", "lowest", "highest"],
      rows: ranking.map(({ component, probability, low, high }) => [
        partName(component),
        percent(probability),
        percent(low),
        percent(high),
      ]),
    },
  });
}

/** What a technician needs before leaving for the machine; for answers that name parts. */
export function technicianSection(
  answer: Answer,
  pictures: Pick<Pictures, "ranking" | "visit"> | undefined,
): Markup {
  const facts = answer.verdict.label === "normal-sound" ? null : (pictures?.visit ?? null);
  const reasoned = answer.components.filter(
    ({ probability }, i) => i < 2 || (i < 5 && probability >= REASONED_FROM),
  );
  const atOdds = seemingContradictions(reasoned.flatMap((row) => [...row.for, ...row.against]));
  return html`${facts === null ? null : visitMarkup(facts)}${checksMarkup(answer)}${cautionsMarkup(answer)}${
    pictures === undefined ? null : rankingFigure(pictures.ranking, answer)
  }${reasoned.map(reasonsMarkup)}${atOdds.map((text) => html`<p>${text}</p>`)}${sourcesMarkup(reasoned)}`;
}
