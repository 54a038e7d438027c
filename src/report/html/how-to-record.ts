import { runAgainCautions } from "../../inspection/cautions.js";
import { html, type Markup } from "./markup.js";

const whileItRuns = (): Markup =>
  html`<ul class="alarm plain">
    ${runAgainCautions().map((text) => html`<li>${text}</li>`)}
  </ul>`;

/** How a recording that can be judged is made: common practice, no source. */
export const howToRecord = (): Markup =>
  html`<ol class="steps">
      <li>
        Put the phone on a folded towel about half a metre from the machine, not on it, in the
        quietest room you can get.
      </li>
      <li>
        Start recording before the noisy part of the programme begins and go on for 20 seconds or
        more. Nobody speaks, no radio.
      </li>
      <li>
        Send the file itself, not a voice note or a call: those remove steady noise, which is what
        has to be heard.
      </li>
      <li>Say which part of the programme it is, and what kind of machine.</li>
    </ol>
    ${whileItRuns()}`;

/** How two recordings that can be compared are made: common practice, no source. */
export const howToRecordPair = (): Markup =>
  html`<h2>So that they can be compared</h2>
    <ol class="steps">
      <li>The same programme and the same part of it, with nothing in the drum.</li>
      <li>
        The same phone with the same app in the same place, about half a metre from the machine.
        Nobody speaks.
      </li>
      <li>
        20 seconds or more at one speed, and the file itself, not a voice note: those remove steady
        noise.
      </li>
    </ol>
    ${whileItRuns()}`;
