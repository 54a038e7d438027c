import { capital, lower } from "../../foundation/first-letter.js";
import { hundredInWords } from "../../foundation/chance-words.js";
import type { NextStep } from "../../inspection/next-step/next-step-answer.js";
import type { Component } from "../../machine/words.js";
import { sharesKey, sharesPicture, type ShareCell } from "../picture/shares-picture.js";
import { checkTitle } from "./check-titles.js";
import { NARROW, WIDE } from "./figure.js";
import { html, type Markup } from "./markup.js";
import type { NextCheckPageInput } from "./next-check-input.js";
import { stopUse, untilThen } from "./masthead.js";
import { ownerWords } from "./owner-words.js";
import { fileName, partName } from "./words.js";

/** The next step as a headline. */
export function planHeadline(answer: NextStep): string {
  const { stop, nextChecks, components, findings } = answer;
  const first = components[0]!.component;
  if (stop?.reason === "found") return `Found: the ${partName(first)}`;
  if (stop?.reason === "in-order") return "Very likely nothing is wrong";
  const [check] = nextChecks;
  if (stop !== null || check === undefined) {
    if (answer.audience === "customer") return "A technician has to look at this";
    return first === "normal" || first === "other"
      ? "No further check helps"
      : `No further check helps; likeliest is the ${partName(first)}`;
  }
  return `${findings.length === 0 ? "First" : "Next"}: ${lower(checkTitle(check.check))}`;
}

const inWords = (component: Component, probability: number): string => {
  const plainly = ownerWords(component)?.plainly;
  const hundred = `${hundredInWords(probability)} in 100`;
  return `the ${partName(component)} (${plainly === undefined ? "" : `${plainly}; `}${hundred})`;
};

function claim(answer: NextStep): string {
  if (answer.stop !== null) return answer.stop.text;
  const faults = answer.components.filter(
    ({ component }) => component !== "normal" && component !== "other",
  );
  const [first, second] = faults;
  const basis =
    answer.basis.from === "diagnosis" ? "The noise" : "How common faults are on such a machine";
  const by = answer.findings.length === 0 ? basis : `${basis}, with what was found by hand,`;
  const also =
    second !== undefined && second.probability >= 0.05
      ? `, then to ${inWords(second.component, second.probability)}`
      : "";
  return `${by} points first to ${inWords(first!.component, first!.probability)}${also}. Checks by hand find out which it is before any part is ordered.`;
}

const LOOKS = ["share-1", "share-2", "share-3"] as const;

function shareCells({ components }: NextStep): ShareCell[] {
  const top = components.slice(0, 3).filter(({ probability }) => probability >= 0.03);
  const rest = components.slice(top.length);
  return [
    ...top.map(({ component, probability }, i) => ({
      name: component === "normal" ? "nothing wrong" : partName(component),
      chance: probability,
      look: LOOKS[i]!,
    })),
    {
      name: `${rest.length} others together`,
      chance: rest.reduce((sum, { probability }) => sum + probability, 0),
      look: "share-rest" as const,
    },
  ];
}

/** Checks that are named to the owner; the rest are counted. */
const NAMED = 4;

function whatWillBeDone({ nextChecks }: NextStep): Markup {
  const more = nextChecks.length - NAMED;
  return html`<ul class="plain">
      ${nextChecks.slice(0, NAMED).map(({ check }) => html`<li>${checkTitle(check)}</li>`)}
    </ul>
    ${more > 0 ? `And ${more} more if these do not settle it. ` : null}The order is the one that
    finds the part soonest; most machines need only the first few.`;
}

function howLong({ nextChecks, expectedMinutes }: NextStep): string {
  const all = Math.round(nextChecks.reduce((sum, { minutes }) => sum + minutes, 0));
  const mean = Math.round(expectedMinutes);
  const found = hundredInWords(nextChecks.at(-1)!.foundBy);
  const most = nextChecks.length > 1 ? `, ${all} if all ${nextChecks.length} are needed` : "";
  return `About ${mean} ${mean === 1 ? "minute" : "minutes"} on average${most}, opening included. In ${found} of 100 such cases one of these checks finds the part. The repair comes on top.`;
}

/** Common practice, no source. */
const PREPARE =
  "Empty the drum, clear the way round the machine, and see that plug and water tap can be reached.";

interface Box {
  readonly title: string;
  readonly text: string | Markup;
}

/** What comes once the part is found: the repair, or first the check without which no price is said. */
const afterFound = (checkLeft: boolean): string =>
  checkLeft
    ? "One check by hand is left before anybody quotes a price. Then the repair can be planned: the part and what to bring stand below."
    : "The repair can be planned: the part, its price and whether it pays stand below.";

function boxes(answer: NextStep, checkLeft: boolean): Box[] {
  const { stop, components, nextChecks, audience } = answer;
  const first = components[0]!.component;
  const meaning = ownerWords(first)?.meaning;
  if (stop === null && nextChecks.length > 0) {
    return [
      {
        title: audience === "customer" ? "What you can do" : "What will be done",
        text: whatWillBeDone(answer),
      },
      { title: "How long it takes", text: howLong(answer) },
      { title: "Please prepare", text: PREPARE },
    ];
  }
  const next: Box[] =
    stop?.reason === "found" && audience !== "customer"
      ? [
          {
            title: "What happens next",
            text: afterFound(checkLeft),
          },
        ]
      : [];
  return meaning === undefined ? next : [{ title: "What it means", text: meaning }, ...next];
}

/** First screen of a plan: what is done next and why, how long it takes, when to stop using the machine. */
export function nextCheckMasthead({ answer, visit, job }: NextCheckPageInput): Markup {
  const cells = shareCells(answer);
  const stop = stopUse(answer);
  const first = answer.components[0]!.component;
  const checkLeft =
    visit?.economy.some((row) => row.component === first && row.withheld !== null) ?? false;
  const strip = (width: number): Markup => sharesPicture(cells, width, "Of 100 such cases");
  return html`<p class="over">Inspection plan, job ${fileName(job)}: ${answer.machine.label}</p>
    <h1>${planHeadline(answer)}</h1>
    <p class="claim">${capital(claim(answer))}</p>
    <div class="strip">
      <div class="wide">${strip(WIDE)}</div>
      <div class="narrow">${strip(NARROW)}</div>
      ${sharesKey(cells)}
    </div>
    <dl class="facts">
      ${boxes(answer, checkLeft).map(
        ({ title, text }) =>
          html`<div>
            <dt>${title}</dt>
            <dd>${text}</dd>
          </div>`,
      )}
      ${untilThen(stop)}
    </dl>`;
}
