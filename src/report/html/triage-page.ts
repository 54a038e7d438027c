import { capital } from "../../foundation/first-letter.js";
import type { TriageSummary } from "../../answer/triage-summary.js";
import {
  ACTION_WORDS,
  countWords,
  partWords,
  recordingCautions,
  soundWords,
  toDoWords,
  triageGroups,
  triageHeadline,
  VERDICT_WORDS,
  type TriageGroup,
} from "../triage-words.js";
import { html, outside, type Markup } from "./markup.js";
import { page, type PageSection } from "./page.js";

/** What is to be done about an answer that is none begins with why it is none: not said twice. */
const whyStandsBeside = ({ verdict, action }: TriageSummary): boolean =>
  action.label === "another-recording" &&
  (verdict === "record-again" || verdict === "not-a-washer");

const parts = (row: TriageSummary): Markup | null => {
  if (row.parts.length === 0 && whyStandsBeside(row)) return null;
  return row.parts.length > 0
    ? html`<ul class="plain">
        ${row.parts.map((part) => html`<li>${capital(partWords(part))}</li>`)}
      </ul>`
    : html`<p>${row.verdictText}</p>`;
};

const reasons = ({ urgency }: TriageSummary): Markup | null =>
  urgency.reasons.length === 0
    ? null
    : html`<ul class="plain alarm">
        ${urgency.reasons.map((reason) => html`<li>${capital(reason)}</li>`)}
      </ul>`;

type Pages = ReadonlyMap<string, string>;

/** How the recordings are called on the page, and where their own pages are. */
interface Naming {
  readonly pages: Pages;
  /** What all paths begin with; it is not repeated. */
  readonly shared: string;
}

/** The folder that all files lie in, with its last separator; empty when there is none. */
function sharedFolder(files: readonly string[]): string {
  let shared = (files[0] ?? "").replace(/[^\\/]*$/, "");
  for (const file of files) {
    while (!file.startsWith(shared)) shared = shared.slice(0, -1).replace(/[^\\/]*$/, "");
  }
  return shared;
}

function nameOf({ file }: TriageSummary, { pages, shared }: Naming): Markup {
  const name = outside(file.slice(shared.length));
  const page = pages.get(file);
  return page === undefined ? name : html`<a href="${page}">${name}</a>`;
}

const caseMarkup = (row: TriageSummary, naming: Naming): Markup =>
  html`<li>
    <div>
      ${row.ticket === null ? null : html`<strong>${outside(row.ticket)}</strong><br />`}${nameOf(row, naming)}
      <p class="soft">
        ${capital(VERDICT_WORDS[row.verdict])}${row.character === null || row.verdict === "not-a-washer" ? null : `: ${soundWords(row)}`}
      </p>
      ${parts(row)}
    </div>
    <div>
      ${reasons(row)}
      <p><span class="tag">${ACTION_WORDS[row.action.label]}</span> ${toDoWords(row)}</p>
    </div>
  </li>`;

/** Mail servers refuse what is much larger than this with everything around it. */
const MOST_CHARACTERS = 2_600_000;

/** Cases of a group while there is room, and how much room is left. */
interface Filled {
  readonly cases: readonly Markup[];
  readonly left: number;
}

function filled(rows: readonly TriageSummary[], naming: Naming, room: number): Filled {
  const cases: Markup[] = [];
  let left = room;
  for (const row of rows) {
    const made = caseMarkup(row, naming);
    left -= made.source.length;
    if (left < 0) break;
    cases.push(made);
  }
  return { cases, left: Math.max(0, left) };
}

function groupSection(group: TriageGroup, cases: readonly Markup[]): PageSection {
  const missing = group.rows.length - cases.length;
  const body = html`<ul class="cases">
      ${cases}
    </ul>
    ${
      missing === 0
        ? null
        : html`<p class="soft">
            ${missing} more are left out to keep the file small enough to mail. The list as CSV has
            them all.
          </p>`
    }`;
  const title = `${group.title} (${group.rows.length})`;
  return { id: group.id, title, body, foldable: group.id !== "stop-use" };
}

function groupSections(rows: readonly TriageSummary[], pages: Pages): PageSection[] {
  const naming = { pages, shared: sharedFolder(rows.map(({ file }) => file)) };
  let left = MOST_CHARACTERS;
  const sections: PageSection[] = [];
  for (const group of triageGroups(rows)) {
    const made = filled(group.rows, naming, left);
    // Once a case found no room, none of a less pressing group may take what is left.
    left = made.cases.length < group.rows.length ? 0 : made.left;
    sections.push(groupSection(group, made.cases));
  }
  return sections;
}

/**
 * The list as one self-contained page, what presses most on top. `pages`: addresses of the recordings' own
 * pages, by file.
 */
export function triagePage(rows: readonly TriageSummary[], pages: Pages = new Map()): string {
  const cautions = recordingCautions(rows);
  return page({
    title: "Recordings, worst first",
    masthead: html`<p class="over">
        ${rows.length} ${rows.length === 1 ? "recording" : "recordings"}, worst first
      </p>
      <h1>${triageHeadline(rows)}</h1>
      <p class="claim">${countWords(rows)}.</p>
      ${cautions === null ? null : html`<p>${cautions}</p>`}`,
    sections: groupSections(rows, pages),
    footer: html`<p>
      Chances are judged from sound and from what was told; a hand test decides. Work inside a
      machine is for trained people under local rules.
      ${
        pages.size === 0
          ? null
          : html`Names lead to the pages of the single recordings, in the folder beside this file;
            copy both.`
      }
    </p>`,
  });
}
