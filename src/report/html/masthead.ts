import { capital } from "../../foundation/first-letter.js";
import { isStopUse, recordingWaits } from "../../inspection/cautions.js";
import { VERDICT_LIMITS } from "../../diagnosis/data/verdict.data.js";
import { PHASE_WORDS } from "../../diagnosis/data/phase-words.data.js";
import type { Answer } from "../../answer/answer.js";
import { sharesKey, sharesPicture, type ShareCell } from "../picture/shares-picture.js";
import { NARROW, WIDE } from "./figure.js";
import { html, type Markup } from "./markup.js";
import { ownerWords } from "./owner-words.js";
import { CHARACTER_WORDS, faultsOf, isRanked, partName, turnsWords, fileName } from "./words.js";

// Some parts have an "or" in their name.
const eitherOr = (a: string, b: string): string =>
  `${capital(a)}${/ or /.test(a + b) ? ", or else " : " or "}${b}`;

/** A sound called right is surely so only where that is likely by itself. */
const isSure = ({ components }: Answer): boolean =>
  components[0]!.probability >= VERDICT_LIMITS.likelyFrom;

/** The answer as a headline. */
export function headline(answer: Answer): string {
  const [first, second] = answer.components;
  switch (answer.verdict.label) {
    case "likely":
      return `Most likely the ${partName(first!.component)}`;
    case "shortlist":
      if (first!.component === "normal") {
        return `Perhaps nothing wrong, perhaps the ${partName(second!.component)}`;
      }
      if (second!.component === "normal") {
        return `Perhaps the ${partName(first!.component)}, perhaps nothing wrong`;
      }
      return eitherOr(partName(first!.component), partName(second!.component));
    case "normal-sound":
      return isSure(answer) ? "This sounds as the machine should" : "No part stands out";
    case "record-again":
      return answer.recordings.length > 1
        ? "These recordings cannot carry an answer"
        : "This recording cannot carry an answer";
    case "not-a-washer":
      return "No washing machine is heard";
  }
}

const LOOKS = ["share-1", "share-2", "share-3"] as const;

function shareCells(answer: Answer): ShareCell[] {
  const top = answer.components.slice(0, 3).filter(({ probability }) => probability >= 0.03);
  const rest = answer.components.slice(top.length);
  const others = rest.reduce((sum, { probability }) => sum + probability, 0);
  return [
    ...top.map(({ component, probability }, i) => ({
      name: component === "normal" ? "nothing wrong" : partName(component),
      chance: probability,
      look: LOOKS[i]!,
    })),
    { name: `${rest.length} others together`, chance: others, look: "share-rest" as const },
  ];
}

const plainly = (answer: Answer, place: number): string | undefined =>
  ownerWords(answer.components[place]?.component)?.plainly;

function claim(answer: Answer): Markup {
  const [first, second] = [plainly(answer, 0), plainly(answer, 1)];
  if (answer.verdict.label === "likely" && first !== undefined) {
    return html`<p class="claim">
      That is ${first}. Sound alone does not decide a repair: a check by hand confirms it.
    </p>`;
  }
  if (answer.verdict.label === "shortlist" && first !== undefined && second !== undefined) {
    return html`<p class="claim">
      That is ${first}, or ${second}. Sound alone does not tell the two apart; a check by hand does.
    </p>`;
  }
  if (answer.verdict.label === "normal-sound") {
    return html`<p class="claim">
      ${isSure(answer) ? "Nothing heard speaks for a fault." : "The sound is most likely as it should be, but that is not certain."}
      If a noise still worries you, record it at its loudest.
    </p>`;
  }
  return html`<p class="claim">${answer.verdict.text}</p>`;
}

function heard(answer: Answer): string {
  const where = answer.phase.label === "unknown" ? "" : `, ${PHASE_WORDS[answer.phase.label]}`;
  return `${capital(CHARACTER_WORDS[answer.character.label])}${where}; ${turnsWords(answer.speed)}.`;
}

function nextStep(answer: Answer): string {
  if (recordingWaits(answer.cautions)) {
    return "Somebody looks at the machine first, with the plug pulled. Only when it is safe to run, make a new recording as described below and send it again.";
  }
  if (!isRanked(answer)) return "Make a new recording as described below, and send it again.";
  if (answer.verdict.label === "normal-sound") {
    const sure = answer.nextChecks[0];
    const check = sure === undefined ? "" : ` To be sure: ${sure.text}`;
    return isSure(answer)
      ? `Nothing needs to be repaired for this sound.${check}`
      : `No repair on this sound alone: record again if the noise goes on.${check}`;
  }
  const own = answer.nextChecks.find(({ audience }) => audience === "customer");
  if (own !== undefined) return `You can look yourself. ${own.text}`;
  const minutes = answer.nextChecks[0]?.minutes;
  const long = minutes === undefined ? "" : ` The first check takes about ${minutes} minutes.`;
  return `A technician checks it by hand before any part is ordered.${long}`;
}

/** What is said of stopping to use the machine, where something is. */
export function stopUse({ cautions }: Pick<Answer, "cautions">): string | undefined {
  const said = cautions.filter(isStopUse);
  return said.length === 0 ? undefined : said.join(" ");
}

function meaning(answer: Answer): string | null {
  if (!isRanked(answer)) return null;
  const first = answer.verdict.label === "normal-sound" ? undefined : faultsOf(answer)[0];
  return ownerWords(first?.component)?.meaning ?? null;
}

function meaningTitle(answer: Answer): string {
  const first = faultsOf(answer)[0];
  return answer.verdict.label === "shortlist" && first !== undefined
    ? `If it is the ${partName(first.component)}`
    : "What it means";
}

/** When the machine must not be used until the repair. */
export const untilThen = (stop: string | undefined, title = "Until then"): Markup | null =>
  stop === undefined
    ? null
    : html`<div class="alarm">
        <dt>${title}</dt>
        <dd>${stop}</dd>
      </div>`;

function facts(answer: Answer): Markup {
  const means = meaning(answer);
  const ranked = isRanked(answer);
  const stop = stopUse(answer);
  const first = recordingWaits(answer.cautions);
  return html`<dl class="facts">
    ${first ? untilThen(stop, "First of all") : null}
    ${
      ranked
        ? html`<div>
            <dt>What is heard</dt>
            <dd>${heard(answer)}</dd>
          </div>`
        : null
    }
    ${
      means === null
        ? null
        : html`<div>
            <dt>${meaningTitle(answer)}</dt>
            <dd>${means}</dd>
          </div>`
    }
    <div>
      <dt>What happens next</dt>
      <dd>${nextStep(answer)}</dd>
    </div>
    ${first ? null : untilThen(stop)}
  </dl>`;
}

function source(answer: Answer): Markup {
  const shown = answer.recordings.slice(0, 3).map(({ file }) => fileName(file));
  const more = answer.recordings.length - shown.length;
  const names = shown.map((name, i) => html`${i > 0 ? ", " : ""}${name}`);
  return html`<p class="over">Noise report on ${names}${more > 0 ? ` and ${more} more` : ""}</p>`;
}

/** First screen of a diagnosis: the answer, how sure it is, what it means, what happens next. */
export function diagnosisMasthead(answer: Answer): Markup {
  const cells = isRanked(answer) ? shareCells(answer) : null;
  return html`${source(answer)}
    <h1>${headline(answer)}</h1>
    ${claim(answer)}${
      cells === null
        ? null
        : html`<div class="strip">
            <div class="wide">${sharesPicture(cells, WIDE)}</div>
            <div class="narrow">${sharesPicture(cells, NARROW)}</div>
            ${sharesKey(cells)}
          </div>`
    }${facts(answer)}`;
}
