import type { ComparisonAnswer } from "../../answer/compare-recordings.js";
import type { ComparisonPictures } from "../../answer/compare-picture-data.js";
import type { EncodedClip } from "../../answer/encode-clips.js";
import { changeEvidence, recordingsTable } from "./change-evidence.js";
import { changeFigures } from "./change-figures.js";
import { comparisonHeadline, comparisonMasthead } from "./comparison-masthead.js";
import { clipMarkup } from "./listening-section.js";
import { html, type Markup } from "./markup.js";
import { page, type PageSection } from "./page.js";

export interface ComparisonPageInput {
  readonly answer: ComparisonAnswer;
  readonly pictures: ComparisonPictures;
  /** Clips before and after, in the same order; none: the page has no sound. */
  readonly clips?: {
    readonly before: readonly EncodedClip[];
    readonly after: readonly EncodedClip[];
  };
}

function listening({ pictures, clips }: ComparisonPageInput): Markup | null {
  if (clips === undefined) return null;
  const count = Math.max(clips.before.length, clips.after.length);
  const rows = Array.from({ length: count }, (_, i) => [clips.before[i], clips.after[i]]);
  return html`${rows.map(
    (pair) =>
      html`<div class="clips">
        ${pair.map((clip) => (clip === undefined ? null : clipMarkup(clip)))}
      </div>`,
  )}${pictures.clips.notes.map((note) => html`<p class="soft">${note}</p>`)}`;
}

function sections(input: ComparisonPageInput): PageSection[] {
  const { answer, pictures } = input;
  const sound = listening(input);
  const all: (PageSection | null)[] = [
    sound === null
      ? null
      : {
          id: "listen",
          title: "Listen",
          lead: "Before and after side by side, at volumes that can be compared.",
          body: sound,
        },
    {
      id: "pictures",
      title: "Before and after",
      lead: "On the same scales and colours; how loud a recording is as a whole plays no part.",
      body: changeFigures(pictures),
      foldable: true,
    },
    {
      id: "evidence",
      title: "Evidence",
      lead: "What the verdict stands on, for those who want to check it.",
      body: html`${changeEvidence(answer)}${recordingsTable(answer)}`,
      foldable: true,
    },
  ];
  return all.filter((section) => section !== null);
}

/**
 * A comparison before and after a repair as one self-contained HTML file: the verdict for the owner, both
 * recordings side by side to hear and to see, the evidence for the engineer.
 */
export function comparisonPage(input: ComparisonPageInput): string {
  return page({
    title: `${comparisonHeadline(input.answer)} – before and after`,
    masthead: comparisonMasthead(input.answer),
    sections: sections(input),
    footer: html`<p>
      Made from sound by washer-noise. It compares two recordings of one machine; that the repair
      was done well it cannot hear. Run a full cycle and look for leaks before you leave.
    </p>`,
  });
}
