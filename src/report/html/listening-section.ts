import type { EncodedClip } from "../../answer/encode-clips.js";
import { base64, html, outside, type Markup } from "./markup.js";

/** A clip with its player. */
export const clipMarkup = ({
  title,
  note,
  mime,
  bytes,
  seconds,
  fromSeconds,
}: EncodedClip): Markup =>
  html`<div class="clip">
    <h4>${title}</h4>
    <p>${note} ${seconds.toFixed(0)}&nbsp;s, from second ${fromSeconds.toFixed(0)} on.</p>
    <audio
      controls
      preload="metadata"
      aria-label="${title}"
      src="data:${mime};base64,${base64(bytes)}"
    ></audio>
  </div>`;

export interface ListenedRecording {
  readonly file: string;
  readonly clips: readonly EncodedClip[];
  /** Why something is missing, one sentence each. */
  readonly notes: readonly string[];
}

/** Players for the clips of all recordings, or why there are none. */
export function listeningSection(recordings: readonly ListenedRecording[]): Markup {
  return html`${recordings.map(
    ({ file, clips, notes }) =>
      html`${recordings.length > 1 ? html`<h3>${outside(file)}</h3>` : null}
        <div class="clips">${clips.map(clipMarkup)}</div>
        ${notes.map((note) => html`<p class="soft">${note}</p>`)}`,
  )}`;
}
