import { capital } from "../../foundation/first-letter.js";
import type { TriageNote } from "../../answer/triage-row.js";
import { ACTION_WORDS, URGENCY_WORDS } from "../triage-words.js";
import { html, outside, type Markup } from "./markup.js";

/** What triage says of one recording, and the list it belongs to. */
export interface DeskNote extends Pick<TriageNote, "ticket" | "urgency" | "action"> {
  /** Address of the list, from the page's folder. */
  readonly list: string;
}

/** Where another recording is asked for, that nothing presses would be too much said. */
function pressing({ urgency, action }: DeskNote): { title: string; text: string } {
  return urgency.label === "none" && action.label === "another-recording"
    ? {
        title: "Not known yet",
        text: "Nothing that was told presses; the sound tells nothing yet.",
      }
    : { title: URGENCY_WORDS[urgency.label], text: "Nothing that was told or heard presses." };
}

/** How pressing a case is and what to do, ready to be copied. */
export function deskSection(note: DeskNote): Markup {
  const { ticket, urgency, action, list } = note;
  const { title, text } = pressing(note);
  const presses = urgency.label === "stop-use" ? "alarm" : null;
  return html`<p>
      ${ticket === null ? null : html`${outside(ticket)} · `}<a href="${list}">Back to the list</a>
    </p>
    <dl class="facts">
      <div class="${presses}">
        <dt>${title}</dt>
        <dd>
          ${
            urgency.reasons.length === 0
              ? text
              : html`<ul class="plain">
                  ${urgency.reasons.map((reason) => html`<li>${capital(reason)}</li>`)}
                </ul>`
          }
        </dd>
      </div>
      <div>
        <dt>What to do: ${ACTION_WORDS[action.label]}</dt>
        <dd>${action.text}</dd>
      </div>
    </dl>`;
}
