import { namesPart, type Verdict } from "../machine/words.js";
import type { PartChance } from "./checks/weigh-findings.js";
import { CAUTIONS, RUN_AGAIN, STOP_USE } from "./data/cautions.data.js";

/** A stop-use warning is given from this chance on: the harm outweighs a needless pause. */
const STOP_FROM = 0.3;
const CAUTION_FROM = 0.12;

/** For whoever is asked to run the machine once more. */
export const runAgainCautions = (): string[] => RUN_AGAIN.map((row) => row.text);

/**
 * Warnings that belong to the likely parts, stop-use first, then the general ones, no sentence twice; those
 * of work on a part only where a part is named, those of a running machine where another recording is
 * asked for. They defer to local rules and licensed people.
 */
export function cautionsFor(components: readonly PartChance[], verdict: Verdict): string[] {
  if (verdict === "not-a-washer") return runAgainCautions();
  const named = namesPart(verdict);
  const likely = components
    .filter((row) => named && row.probability >= CAUTION_FROM)
    .map((r) => r.component);
  const special = CAUTIONS.filter((row) => row.components.some((c) => likely.includes(c)));
  const general = CAUTIONS.filter((row) => row.components.length === 0);
  return [
    ...new Set([
      ...stopUseFor(components),
      ...(verdict === "record-again" ? runAgainCautions() : []),
      ...[...general, ...special].map((row) => row.text),
    ]),
  ];
}

/** Reasons to stop using the machine now that belong to the likely parts. */
export function stopUseFor(components: readonly PartChance[]): string[] {
  const grave = components.filter((row) => row.probability >= STOP_FROM).map((r) => r.component);
  return STOP_USE.filter((row) => row.components.some((c) => grave.includes(c))).map(
    (row) => row.text,
  );
}

const stopTexts: ReadonlySet<string> = new Set(STOP_USE.map((row) => row.text));

/** Whether a caution asks to stop using the machine: such cautions are said before anything else. */
export const isStopUse = (caution: string): boolean => stopTexts.has(caution);

/** Parts that may come loose at speed: with one of them this likely, nobody is asked to spin the machine. */
export const unsafeToSpin = (components: readonly PartChance[]): boolean =>
  components.some(
    (row) =>
      row.probability >= STOP_FROM &&
      STOP_USE.some((stop) => stop.nospin && stop.components.includes(row.component)),
  );
