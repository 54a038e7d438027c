import type { Washer } from "../../machine/profile.js";
import type { Component } from "../../machine/words.js";
import type { PartChance } from "../checks/weigh-findings.js";
import type { Prices } from "../economics/prices.js";
import { carry, type Carry } from "./carry.js";
import type { FastenerTrap, Kit, PriceBand, RefittingNote } from "./kit.js";
import { KITS } from "./kits.data.js";
import { otherSystem, type OtherSystem } from "./hexagon.js";
import { REFITTING } from "./refitting.data.js";
import { BASIC_TOOLS, FASTENER_TRAPS, TOOLS } from "./tools.data.js";

/** What hand tests have settled so far. */
export interface HandFindings {
  readonly confirmed: readonly Component[];
}

export interface PartDecision extends Carry {
  readonly component: Component;
  readonly probability: number;
  readonly items: readonly string[];
  readonly onlyIf: string | null;
}

/** What goes into the van. */
export interface VisitParts {
  /** Likeliest first. */
  readonly bring: readonly PartDecision[];
  /** Likely enough to be asked about, and why they stay. */
  readonly leave: readonly PartDecision[];
  readonly basicTools: readonly string[];
  readonly tools: readonly string[];
  /** Hexagons met on these jobs, with what the other system's sockets do on them. */
  readonly hexagons: readonly OtherSystem[];
  readonly traps: readonly FastenerTrap[];
  readonly refitting: readonly RefittingNote[];
}

/** Parts less likely than this are not spoken of. */
const SPOKEN_FROM = 0.1;

type Axis = "horizontal" | "vertical";

const axesOf = (machine: Washer): readonly Axis[] => [
  ...new Set(machine.profiles.map(({ axis }) => axis)),
];

const suits = (row: { readonly axis?: Axis }, axes: readonly Axis[]): boolean =>
  row.axis === undefined || axes.includes(row.axis);

/** Kits for a part on this machine; two where the machine's lie is not known and the kits differ. */
export const kitsFor = (component: Component, machine: Washer): readonly Kit[] =>
  KITS.filter((kit) => kit.component === component && suits(kit, axesOf(machine)));

function decisions(
  { component, probability }: PartChance,
  machine: Washer,
  prices: Prices,
  findings: HandFindings,
): PartDecision[] {
  const confirmed = findings.confirmed.includes(component);
  return kitsFor(component, machine).flatMap((kit) => {
    const { band, items, onlyIf = null } = kit;
    if (band === null) return [];
    const told = carry({ ...kit, band: band satisfies PriceBand }, probability, prices, confirmed);
    return [{ component, probability, items, onlyIf, ...told }];
  });
}

const unique = <T>(rows: readonly T[]): readonly T[] => [...new Set(rows)];

/**
 * Parts, tools, fastener traps and refitting notes for a visit.
 *
 * `ranking` holds chances from 0 to 1, in any order. Parts from a chance of 0.1 on are considered; with
 * prices also less likely ones, when they pay. Prices that were not told leave the rule by bands.
 */
export function partsToBring(
  ranking: readonly PartChance[],
  machine: Washer,
  prices: Prices,
  findings: HandFindings,
): VisitParts {
  const rows = [...ranking].sort((a, b) => b.probability - a.probability);
  const all = rows.flatMap((row) => decisions(row, machine, prices, findings));
  const bring = all.filter((row) => row.bring);
  const spoken = rows.filter(({ probability }) => probability >= SPOKEN_FROM);
  const jobs = unique([...bring, ...spoken].map(({ component }) => component));
  const axes = axesOf(machine);
  const tools = TOOLS.filter((row) => jobs.includes(row.component) && suits(row, axes));
  const forJobs = (row: FastenerTrap | RefittingNote): boolean =>
    suits(row, axes) && row.components.some((component) => jobs.includes(component));
  return {
    bring,
    leave: all.filter((row) => !row.bring && row.probability >= SPOKEN_FROM),
    basicTools: BASIC_TOOLS,
    tools: unique(tools.flatMap((row) => row.tools)),
    hexagons: unique(tools.flatMap((row) => row.hexagons)).map(otherSystem),
    traps: FASTENER_TRAPS.filter(forJobs),
    refitting: REFITTING.filter(forJobs),
  };
}
