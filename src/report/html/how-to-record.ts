import { html, type Markup } from "./markup.js";

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
      Send the file itself, not a voice note or a call: those remove steady noise, which is what has
      to be heard.
    </li>
    <li>Say which part of the programme it is, and what kind of machine.</li>
  </ol>`;
