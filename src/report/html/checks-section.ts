import { capital, lower } from "../../foundation/first-letter.js";
import { hundredInWords, percent } from "../../foundation/chance-words.js";
import type { CheckOutlook, OutcomeOutlook } from "../../answer/check-outlook.js";
import { partInSentence } from "../../diagnosis/part-words.js";
import { TEST_CAUTIONS } from "../../inspection/data/access.data.js";
import type {
  AdvisedCheck,
  NextStep,
  ReadableFinding,
} from "../../inspection/next-step/next-step-answer.js";
import { oddsInWords } from "../odds.js";
import { laterSeparatingStep } from "../separating-step.js";
import { outlookPicture, type OutlookData } from "../picture/outlook-picture.js";
import { checkTitle } from "./check-titles.js";
import { figure } from "./figure.js";
import { html, type Markup } from "./markup.js";
import type { NextCheckPageInput } from "./next-check-input.js";
import { partName } from "./words.js";

const minutes = (value: number): string => `${Math.round(value)} min`;

const POWER = {
  unplugged: "unplugged",
  "covers-on": "runs its programme, all covers on",
  live: "open and under power",
} as const;

const WHO = {
  customer: "the owner may do it",
  technician: "technician",
  licensed: "licensed person only",
} as const;

function tags(check: AdvisedCheck): Markup {
  const own =
    check.minutes > check.ownMinutes ? `, ${minutes(check.ownMinutes)} of it the test` : "";
  const words = [`${minutes(check.minutes)}${own}`, POWER[check.power], WHO[check.audience]];
  return html`${words.map((word) => html`<span class="tag">${word}</span>`)}`;
}

function opening({ opens, closesFirst }: AdvisedCheck): string | null {
  const words = [
    ...(closesFirst ? ["close everything again"] : []),
    ...opens.map((one) => one.words),
  ];
  return words.length === 0 ? null : `First: ${words.join(", ")}.`;
}

/** What comes after an outcome: the part it leaves first, and the next check or the end. */
function then({ chance, parts, next, stop }: OutcomeOutlook, earlier: readonly string[]): string {
  const first = parts[0]!;
  const goOn = stop === null && next !== null ? next : null;
  // Who reads a later step has done the earlier ones: they do not come next again.
  const done = goOn !== null && earlier.includes(goOn);
  const after = done
    ? ""
    : `; ${goOn === null ? "the search ends here" : `next: ${lower(checkTitle(goOn))}`}`;
  return `In ${hundredInWords(chance)} of 100 such cases. Likeliest then: ${partName(first.component)}, ${percent(first.probability)}${after}.`;
}

function outcomesList(
  check: AdvisedCheck,
  outlook: CheckOutlook | undefined,
  earlier: readonly string[],
): Markup {
  return html`<ul class="outcomes">
    ${check.outcomes.map(({ outcome, reads, points }) => {
      const ahead = outlook?.outcomes.find((row) => row.outcome === outcome);
      const at = points.length > 0 ? `Points at ${points.map(partName).join(", ")}. ` : "";
      const said = `${at}${ahead === undefined ? "" : then(ahead, earlier)}`;
      return html`<li>
        <strong class="name">${outcome}</strong> ${capital(reads)}.
        ${said === "" ? null : html`<br /><span class="soft">${said}</span>`}
      </li>`;
    })}
  </ul>`;
}

/** Cautions that no step before has told. */
function newCautions(checks: readonly AdvisedCheck[], told: readonly string[]): string[][] {
  const seen = new Set(told);
  return checks.map(({ cautions }) => {
    const fresh = cautions.map((id) => TEST_CAUTIONS[id]).filter((text) => !seen.has(text));
    for (const text of fresh) seen.add(text);
    return fresh;
  });
}

function stepMarkup(
  check: AdvisedCheck,
  cautions: readonly string[],
  outlook: CheckOutlook | undefined,
  earlier: readonly string[],
): Markup {
  const first = opening(check);
  return html`<li>
    <strong>${checkTitle(check.check)}</strong> <span class="name soft">${check.check}</span><br />
    ${tags(check)} ${first === null ? null : html`<p>${first}</p>`}
    <p>${check.text}</p>
    ${check.tools.length === 0 ? null : html`<p class="soft">With: ${check.tools.join(", ")}.</p>`}
    ${cautions.map((text) => html`<p class="alarm">${text}</p>`)}
    ${outcomesList(check, outlook, earlier)}
  </li>`;
}

function findingMarkup(finding: ReadableFinding): Markup {
  const { check, outcome, reads, note, counts } = finding;
  const moved = [
    ...finding.for.map(({ component }) => `for ${partName(component)}`),
    ...finding.against.map(({ component }) => `against ${partName(component)}`),
  ];
  const old = counts || outcome === "not-done" ? null : " (done again later)";
  return html`<li>
    <strong>${checkTitle(check)}:</strong>
    ${reads}${old}${note === undefined ? null : html` – <bdi>${note}</bdi>`}
    ${counts && moved.length > 0 ? html`<br /><span class="soft">${capital(moved.join("; "))}.</span>` : null}
  </li>`;
}

function foundSoFar({ findings, contradictions }: NextStep): Markup {
  return html`${
    findings.length === 0
      ? null
      : html`<h3>Found so far</h3>
          <ul class="plain">
            ${findings.map(findingMarkup)}
          </ul>`
  }${
    contradictions.length === 0
      ? null
      : html`<h3>These disagree</h3>
          <ul class="plain alarm">
            ${contradictions.map(({ text }) => html`<li>${text}</li>`)}
          </ul>`
  }`;
}

function visitFacts({ answer, visit }: NextCheckPageInput): Markup | null {
  const { open, tools, nextChecks } = answer;
  const bring = visit?.parts.bring.flatMap(({ items }) => items) ?? [];
  const rows: [string, string][] = [
    ...(nextChecks.length === 0
      ? []
      : [
          ["Open", open?.text ?? "Nothing: these checks are done from outside."] as [
            string,
            string,
          ],
        ]),
    ...(visit === null
      ? []
      : [
          [
            "Bring",
            bring.length > 0
              ? `${capital([...new Set(bring)].join(", "))}.`
              : "No part on this suspicion alone: confirm by hand, then order.",
          ] as [string, string],
        ]),
    ...(tools.length === 0
      ? []
      : [["Check with", `${capital(tools.join(", "))}.`] as [string, string]]),
  ];
  if (rows.length === 0) return null;
  return html`<dl class="facts">
    ${rows.map(
      ([name, text]) =>
        html`<div>
          <dt>${name}</dt>
          <dd>${text}</dd>
        </div>`,
    )}
  </dl>`;
}

const tellIt = ({ answer, job }: NextCheckPageInput): Markup | null => {
  const [first] = answer.nextChecks;
  if (first === undefined || answer.audience === "customer") return null;
  return html`<p class="soft">
    Tell each outcome, and the order is worked out anew:
    <span class="name"
      >washer-noise next-check ${job} --found ${first.check}=${first.outcomes.at(-1)!.outcome}</span
    >
  </p>`;
};

/** Why the test that separates the two likeliest is not the first, where it is not. */
function orderWords(answer: NextStep): string | null {
  const { separating } = answer;
  const step = laterSeparatingStep(answer);
  if (separating === null || step === null) return null;
  const [a, b] = separating.between.map(partInSentence);
  return `Cheap looks come first; step ${step} is what tells ${a} from ${b}.`;
}

/** The checks in order, with what each needs and what its outcomes mean. */
export function checksSection(input: NextCheckPageInput): Markup {
  const { answer, outlooks } = input;
  const { nextChecks, cautions, stop } = answer;
  const order = answer.audience === "customer" ? null : orderWords(answer);
  const fresh = newCautions(nextChecks, cautions);
  return html`${visitFacts(input)}${foundSoFar(answer)}${
    cautions.length === 0
      ? null
      : html`<h3>Take care</h3>
          <ul class="alarm plain">
            ${cautions.map((text) => html`<li>${text}</li>`)}
          </ul>`
  }${stop === null || answer.audience === "customer" ? null : html`<p><strong>${stop.text}</strong></p>`}${
    nextChecks.length === 0
      ? null
      : html`<h3>Check in this order</h3>
          ${order === null ? null : html`<p>${order}</p>`}
          <ol class="steps">
            ${nextChecks.map((check, i) =>
              stepMarkup(
                check,
                fresh[i]!,
                outlooks.find((row) => row.check === check.check),
                nextChecks.slice(0, i).map((row) => row.check),
              ),
            )}
          </ol>`
  }${tellIt(input)}`;
}

const DRAWN_CHECKS = 3;
const DRAWN_PARTS = 5;

/** The parts to draw: the likeliest now, and whatever an outcome puts first. */
function outlookData(answer: NextStep, { outcomes }: CheckOutlook): OutlookData {
  const leaders = outcomes.map(({ parts }) => parts[0]!.component);
  const likely = answer.components.map(({ component }) => component);
  const drawn = [...new Set([...likely.slice(0, 3), ...leaders, ...likely])].slice(0, DRAWN_PARTS);
  const order = likely.filter((component) => drawn.includes(component));
  const shares = (parts: NextStep["components"] | OutcomeOutlook["parts"]): number[] => {
    const chances = order.map(
      (component) => parts.find((row) => row.component === component)?.probability ?? 0,
    );
    return [...chances, Math.max(0, 1 - chances.reduce((a, b) => a + b, 0))];
  };
  return {
    parts: [
      ...order.map((component) =>
        component === "normal" ? "Nothing wrong" : capital(partName(component)),
      ),
      "All others",
    ],
    columns: [
      { title: "now", note: "", chances: shares(answer.components) },
      ...outcomes.map(({ outcome, chance, parts }) => ({
        title: outcome,
        note: `${hundredInWords(chance)} in 100`,
        chances: shares(parts),
      })),
    ],
  };
}

function outlookFigure(answer: NextStep, outlook: CheckOutlook): Markup {
  const data = outlookData(answer, outlook);
  const check = answer.nextChecks.find((row) => row.check === outlook.check)!;
  const reads = check.outcomes.map(
    ({ outcome, reads: says }) => html`<strong>${outcome}</strong>: ${says}. `,
  );
  return figure({
    id: `outlook-${outlook.check}`,
    title: checkTitle(outlook.check),
    draw: (width) => outlookPicture(data, width),
    caption: html`Chance of each part in percent; the dark bar is the likeliest. Above each column
    how often the check turns out so. ${reads}`,
    table: {
      columns: [
        "part",
        ...data.columns.map(({ title, note }) => (note ? `${title}, ${note}` : title)),
      ],
      rows: data.parts.map((part, i) => [
        part,
        ...data.columns.map(
          ({ chances }) => `${percent(chances[i]!)}, ${oddsInWords(chances[i]!)}`,
        ),
      ]),
    },
  });
}

/** For the first checks, the chances now and after each outcome. */
export const outlookFigures = (answer: NextStep, outlooks: readonly CheckOutlook[]): Markup =>
  html`${outlooks.slice(0, DRAWN_CHECKS).map((outlook) => outlookFigure(answer, outlook))}`;
