import { checksSection, outlookFigures } from "./checks-section.js";
import { html, type Markup } from "./markup.js";
import type { NextCheckPageInput } from "./next-check-input.js";
import { nextCheckMasthead, planHeadline } from "./next-check-masthead.js";
import { page, type PageSection } from "./page.js";
import { planNumbers } from "./plan-numbers-section.js";
import { repairSection } from "./repair-section.js";

const owner = (complaint: string | undefined): Markup | null =>
  complaint === undefined
    ? null
    : html`<p>
        <strong>The owner says:</strong> <q><bdi>${complaint}</bdi></q>
      </p>`;

function sections(input: NextCheckPageInput): PageSection[] {
  const { answer, outlooks, visit } = input;
  const own = answer.audience === "customer";
  const steps = answer.nextChecks.length > 0;
  const all: (PageSection | null)[] = [
    {
      id: "checks",
      title: own ? (steps ? "Step by step" : "What is known") : "For the technician",
      lead: own
        ? steps
          ? "In this order. Stop where you feel unsure."
          : "There is nothing more that you can check yourself."
        : "What to open, what to check in which order, and what each outcome means.",
      body: html`${owner(input.complaint)}${checksSection(input)}`,
    },
    outlooks.length === 0
      ? null
      : {
          id: "outlook",
          title: "What the outcomes do",
          lead: "The chances now and after each outcome, each check taken as if it were done next.",
          body: outlookFigures(answer, outlooks),
          foldable: true,
        },
    visit === null
      ? null
      : {
          id: "repair",
          title: "Parts, tools, and whether a repair pays",
          lead: "With the sum behind each decision.",
          body: repairSection(visit),
          foldable: true,
        },
    {
      id: "numbers",
      title: "Numbers of the plan",
      lead: "For those who want to check it.",
      body: planNumbers(input),
      foldable: true,
    },
  ];
  return all.filter((section) => section !== null);
}

/**
 * The plan of an inspection as one self-contained HTML file: what will be done and how long it takes for
 * the owner, ordered checks for the technician, the plan's numbers for the engineer.
 */
export function nextCheckPage(input: NextCheckPageInput): string {
  return page({
    title: `${planHeadline(input.answer)} – inspection plan`,
    masthead: nextCheckMasthead(input),
    sections: sections(input),
    footer: html`<p>
      Made by washer-noise from sound, findings and how common faults are. Minutes are those of a
      practised hand, recalled, and differ between makes. Work inside the machine only unplugged;
      measurements under power are for licensed or trained people under local rules.
    </p>`,
  });
}
