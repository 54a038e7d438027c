import type { TriageSummary } from "../../answer/triage-summary.js";
import { URGENCIES, type UrgencyLabel } from "../../inspection/urgency/urgency.js";
import { ACTION_WORDS, countWords, partWords, soundWords } from "../triage-words.js";
import { URGENCY_WORDS, VERDICT_WORDS } from "../triage-words.js";
import { dataTable } from "./figure.js";
import { html, outside, type Markup } from "./markup.js";
import { page, type PageSection } from "./page.js";

const parts = (row: TriageSummary): Markup =>
  row.parts.length > 0
    ? html`<ul class="plain">
        ${row.parts.map((part) => html`<li>${partWords(part)}</li>`)}
      </ul>`
    : html`<p>${row.verdictText}</p>`;

const reasons = ({ urgency }: TriageSummary): Markup | null =>
  urgency.reasons.length === 0
    ? null
    : html`<ul class="plain alarm">
        ${urgency.reasons.map((reason) => html`<li>${reason}</li>`)}
      </ul>`;

const rowCells = (row: TriageSummary) => [
  html`${row.ticket === null ? null : html`${outside(row.ticket)}<br />`}${outside(row.file)}`,
  html`${VERDICT_WORDS[row.verdict]}<br /><span class="soft">${soundWords(row)}</span>`,
  parts(row),
  html`<strong>${ACTION_WORDS[row.action.label]}</strong>${reasons(row)}
    <p>${row.action.text}</p>`,
];

function groupSection(label: UrgencyLabel, rows: readonly TriageSummary[]): PageSection {
  const title = `${URGENCY_WORDS[label]} (${rows.length})`;
  const table = {
    columns: ["who", "verdict", "likely parts", "what to do"],
    rows: rows.map(rowCells),
  };
  return { id: label, title, body: dataTable(table, title), foldable: label !== "stop-use" };
}

/** The list as one self-contained page, what presses most on top. */
export function triagePage(rows: readonly TriageSummary[]): string {
  const groups = URGENCIES.map((label) => ({
    label,
    rows: rows.filter((row) => row.urgency.label === label),
  })).filter((group) => group.rows.length > 0);
  const stop = rows.filter((row) => row.urgency.label === "stop-use").length;
  return page({
    title: "Recordings, worst first",
    masthead: html`<p class="over">
        ${rows.length} ${rows.length === 1 ? "recording" : "recordings"}, worst first
      </p>
      <h1>${stop === 0 ? "No machine has to be stopped" : `${stop} to be stopped now`}</h1>
      <p class="claim">${countWords(rows)}.</p>`,
    sections: groups.map((group) => groupSection(group.label, group.rows)),
    footer: html`<p>
      Chances are judged from sound and from what was told; a hand test decides. Work inside a
      machine is for trained people under local rules.
    </p>`,
  });
}
