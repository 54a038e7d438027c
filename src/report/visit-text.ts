import { percent } from "../foundation/chance-words.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import { ECONOMY } from "../inspection/economics/economics.data.js";
import type { Economy } from "../inspection/economics/repair-or-replace.js";
import type { RepairCost } from "../inspection/economics/repair-cost.js";
import type { OtherSystem } from "../inspection/parts/hexagon.js";
import type { PartDecision } from "../inspection/parts/parts-to-bring.js";
import type { Visit } from "../inspection/parts/visit.js";
import { LABEL_WIDTH, showControls, wrap } from "./lines.js";

function section(label: string, texts: readonly string[], width: number): string[] {
  const indent = " ".repeat(LABEL_WIDTH);
  return texts.flatMap((text, i) =>
    wrap((i === 0 ? label : "").padEnd(LABEL_WIDTH, "\u00a0") + text, width, `${indent}  `),
  );
}

const money = (amount: number): string => String(Math.round(amount));

const span = (low: number, high: number): string =>
  money(low) === money(high) ? money(low) : `${money(low)} to ${money(high)}`;

function carryWords({ by, probability, bring, needsHandTest }: PartDecision): string {
  if (by.rule === "prices") {
    const sign = bring ? "more than" : "no more than";
    return (
      `${percent(probability)} × second trip ${money(by.secondTrip)} = ${money(by.saved)} saved, ${sign} ` +
      `${by.returnPercent} % of its price ${money(by.price)} = ${money(by.holding)}`
    );
  }
  const test = needsHandTest ? ", and no hand test confirms it yet" : "";
  return `${percent(probability)}; a part of its price is carried from ${percent(by.from)} on${test}`;
}

const nameOf = ({ component }: PartDecision): string => COMPONENT_NAMES[component];

function bringWords(part: PartDecision): string {
  const onlyIf = part.onlyIf === null ? "" : `. More only if ${part.onlyIf}`;
  return `${nameOf(part)}: ${part.items.join(", ")} (${carryWords(part)})${onlyIf}`;
}

const leaveWords = (part: PartDecision): string => `${nameOf(part)} (${carryWords(part)})`;

const sized = ({ nut, nutMm }: OtherSystem): string =>
  nut.endsWith("mm") ? nut : `${nut} (${nutMm.toFixed(2)} mm)`;

/** What not to put on a nut: `9/16 in (14.29 mm): 15 mm is 0.71 mm loose and rounds it`. */
function mismatchWords(hexagon: OtherSystem): string {
  const { tight, trap } = hexagon;
  const harm = trap?.fit === "trap" ? "rounds it" : "only for what sits lightly";
  const parts = [
    ...(tight === null ? [] : [`${tight} may not go on`]),
    ...(trap === null ? [] : [`${trap.socket} is ${trap.gapMm.toFixed(2)} mm loose, ${harm}`]),
  ];
  return `${sized(hexagon)}: ${parts.join(", ")}`;
}

/** Hexagons met on these jobs: what interchanges, what must be brought in its own system, what harms. */
function sizeWords(hexagons: readonly OtherSystem[]): string[] {
  const same = hexagons.filter((one) => one.interchanges !== null);
  const rest = hexagons.filter((one) => one.interchanges === null);
  const harmful = rest.filter(({ tight, trap }) => tight !== null || trap !== null);
  const alone = rest.filter((one) => !harmful.includes(one));
  return [
    ...(same.length === 0
      ? []
      : [`inch or metric: ${same.map((one) => `${one.nut} = ${one.interchanges}`).join(", ")}`]),
    ...(alone.length === 0 ? [] : [`nothing else fits ${alone.map(({ nut }) => nut).join(", ")}`]),
    ...harmful.map(mismatchWords),
  ];
}

function costWords(cost: RepairCost): string {
  const part = cost.part.high === 0 ? "no part" : `part ${span(cost.part.low, cost.part.high)}`;
  const source = cost.partTold || cost.part.high === 0 ? "" : " (band of the new price)";
  const factor = cost.accessFactor === 1 ? "" : ` × ${cost.accessFactor}`;
  const callOut = cost.callOut === 0 ? "" : ` + coming ${money(cost.callOut)}`;
  const labour = `${span(cost.minutes.low, cost.minutes.high)} min at ${money(cost.labourPerHour)} an hour${factor}`;
  return `${part}${source} + ${labour}${callOut} = ${span(cost.total.low, cost.total.high)}`;
}

function shareWords({ share, slidingLimit, fiftyPercent }: Economy): string {
  if (share === null) return "";
  const said = ` = ${span(100 * share.low, 100 * share.high)} % of a new machine`;
  if (slidingLimit === null || fiftyPercent === null) return said;
  const [low, high] = fiftyPercent;
  const fifty = low === high ? low : `anything from ${low} to ${high} over that range`;
  return `${said}; the 50 % rule says ${fifty}`;
}

/** The two rules, once, with their provenance. */
function ruleWords({ economy, ageYears, prices }: Visit): string[] {
  const limit = economy.find((row) => row.slidingLimit !== null)?.slidingLimit;
  if (limit === undefined || limit === null || ageYears === null) return [];
  const { slidingShare, slidingLifeYears, slidingFloor, lifeYears } = ECONOMY;
  const most = prices.newMachine === undefined ? "" : ` = ${money(limit * prices.newMachine)}`;
  return [
    `Worth mending at ${ageYears} years up to ${slidingShare.value} × (1 − ${ageYears}/${slidingLifeYears.value}) + ` +
      `${slidingFloor.value} = ${money(100 * limit)} % of a new machine${most} (sliding rule, from memory). ` +
      `The 50 % rule (published): replace when dearer than half and older than ${lifeYears.value / 2} years. Both must agree.`,
  ];
}

const MISSING_WORDS: Readonly<Record<string, string>> = {
  "labour-per-hour": "--labour-per-hour",
  "new-price": "--new-price",
  price: "--price PART=AMOUNT",
  age: "--age",
};

function missingWords({ missing }: Economy): string {
  if (missing.length === 0) return "";
  const words = missing.map((name) => MISSING_WORDS[name]!);
  const both = missing.includes("price") && missing.includes("new-price");
  const told = both
    ? [...words.filter((word) => !/price/.test(word)), "--price PART=AMOUNT or --new-price"]
    : words;
  return `; tell ${told.join(" and ")}`;
}

const HEADS = {
  repair: "worth mending",
  replace: "replace the machine",
  undecided: "not settled",
} as const;

/** What is missing, when something is, is a figure and not a finding. */
function headWords({ worth, missing, withheld }: Economy): string {
  if (worth !== "undecided") return HEADS[worth];
  if (withheld !== null) return "no price yet";
  return missing.length > 0 ? "not worked out yet" : HEADS.undecided;
}

function sumWords(economy: Economy, currency: string): string {
  const { cost, figure } = economy;
  if (cost === null) return "";
  const range = figure === null ? " (a range until a hand test confirms it)" : "";
  const about = figure === null ? "" : `, about ${money(figure)}`;
  return `; ${costWords(cost)}${about}${currency}${shareWords(economy)}${range}`;
}

function economyWords(economy: Economy, { prices }: Visit): string {
  const currency = prices.currency ? ` ${showControls(prices.currency)}` : "";
  const stop = economy.stop ? `: ${economy.stop.text}` : "";
  const first = economy.lookFirst.map(({ text }) => text).join(", or if ");
  const found = economy.confirmed ? " (found by hand)" : "";
  const sentences = [
    `${COMPONENT_NAMES[economy.component]}${found}: ${headWords(economy)}${stop}` +
      `${sumWords(economy, currency)}${missingWords(economy)}.`,
    ...(economy.withheld === null ? [] : [economy.withheld]),
    ...(first === "" ? [] : [`Look first: no repair if ${first}.`]),
  ];
  return sentences.join(" ");
}

/** One labelled group of sentences of a visit. */
export interface VisitGroup {
  readonly label: string;
  readonly texts: readonly string[];
}

/**
 * What to bring and leave with the sum behind each, tools and their sizes, what to mind when it goes back
 * together, repair or replace; groups without a sentence are left out.
 */
export function visitGroups(visit: Visit): VisitGroup[] {
  const { parts } = visit;
  const tools = [...parts.tools, `and as always: ${parts.basicTools.join(", ")}`].join(", ");
  return [
    { label: "Bring", texts: parts.bring.length > 0 ? parts.bring.map(bringWords) : ["no part"] },
    { label: "Leave", texts: parts.leave.map(leaveWords) },
    { label: "Tools", texts: [tools] },
    { label: "Sizes", texts: sizeWords(parts.hexagons) },
    { label: "Threads", texts: parts.traps.map(({ text }) => text) },
    { label: "Refitting", texts: parts.refitting.map(({ text }) => text) },
    {
      label: "Worth it?",
      texts: [...visit.economy.map((row) => economyWords(row, visit)), ...ruleWords(visit)],
    },
  ].filter(({ texts }) => texts.length > 0);
}

/** The groups as lines of a screen. `width` in columns. */
export const visitLines = (visit: Visit, width: number): string[] =>
  visitGroups(visit).flatMap(({ label, texts }) => section(label, texts, width));
