import { isOneRecording, type ComparisonAnswer } from "../../answer/compare-recordings.js";
import type { ComparisonVerdict } from "../../comparison/comparison.js";
import { howToRecordPair } from "./how-to-record.js";
import { html, type Markup } from "./markup.js";
import { ownerWords } from "./owner-words.js";
import { partName, fileName } from "./words.js";

const HEADLINES: Readonly<Record<ComparisonVerdict, string>> = {
  cured: "The noise is gone",
  better: "Better, but not gone",
  unchanged: "The noise is still there",
  worse: "More noise than before",
  "cannot tell": "These two recordings do not tell",
};

export const comparisonHeadline = ({ verdict }: ComparisonAnswer): string => HEADLINES[verdict];

/** Common practice, no source. */
const NEXT: Readonly<Record<ComparisonVerdict, string>> = {
  cured:
    "Nothing more for this noise. The technician runs a full cycle and looks for leaks; call again if the noise comes back.",
  better:
    "The technician looks at what is left before leaving: the part that was changed, what sits next to it, and anything that was loosened for the work.",
  unchanged:
    "The cause is not mended yet. The technician checks the repair by hand and goes on down the list of parts.",
  worse:
    "Do not go on using it as it is. The technician opens it again: a part may sit badly, rub, or be loose after the work.",
  "cannot tell": "Both recordings are made alike, and the comparison is made again.",
};

const nextText = (answer: ComparisonAnswer): string =>
  isOneRecording(answer)
    ? "Both files hold the same recording. The machine is recorded again after the repair, and compared with that."
    : NEXT[answer.verdict];

function meaning({ component, verdict }: ComparisonAnswer): Markup | null {
  const plainly = ownerWords(component)?.plainly;
  if (verdict === "cannot tell" || plainly === undefined) return null;
  return html`<div>
    <dt>What it was about</dt>
    <dd>The noise was put down to the ${partName(component)}: ${plainly}.</dd>
  </div>`;
}

/** Nothing more than even odds is not worth a figure. */
const LEAST_ODDS = 1;

/** Whether the first recording can show that a fault is gone, with the odds that a full cure would reach. */
function firstShows({ reach, text: claim }: ComparisonAnswer): Markup {
  const { nats } = reach;
  const text = reach.text === claim ? "Hardly." : reach.text;
  const odds = nats === null ? 0 : Math.exp(nats);
  const figure =
    odds > LEAST_ODDS
      ? ` After a full cure the odds that the noise is gone would reach about ${odds.toFixed(odds < 10 ? 1 : 0)} to 1.`
      : "";
  return html`<div>
    <dt>Can the first recording show a cure?</dt>
    <dd>${text}${figure}</dd>
  </div>`;
}

/** First screen of a comparison: the verdict, why, and what happens next. */
export function comparisonMasthead(answer: ComparisonAnswer): Markup {
  const { verdict, text, recordings } = answer;
  const alarm = verdict === "worse" ? "alarm" : null;
  return html`<p class="over">
      Repair check: ${fileName(recordings[0]!.file)} before, ${fileName(recordings[1]!.file)} after
    </p>
    <h1>${comparisonHeadline(answer)}</h1>
    <p class="claim">${text}</p>
    <dl class="facts">
      ${meaning(answer)} ${firstShows(answer)}
      <div class="${alarm}">
        <dt>What happens next</dt>
        <dd>${nextText(answer)}</dd>
      </div>
    </dl>
    ${verdict === "cannot tell" ? howToRecordPair() : null}`;
}
