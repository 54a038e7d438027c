import { heightAt, oddsTable, tableOdds } from "./line-odds.js";
import type { LineSpectrum } from "./line-spectrum.js";

/** Step of ln frequency of the fine scans: 0.1 %. */
export const FINE_STEP = 0.001;

/** Log-odds over an even grid of ln frequency. */
export interface Scan {
  /** ln Hz of the first place. */
  readonly firstLn: number;
  readonly odds: Float64Array;
}

export const scanHz = (scan: Scan, i: number): number => Math.exp(scan.firstLn + i * FINE_STEP);

// How often modulation at 1, 2, 3 ... per turn is heard in a washer that is heard at all, and how often
// any other line stands at a given place: common practice, no source.
const TURN_EXPECTED = [0.8, 0.5, 0.4, 0.3, 0.25, 0.2];
/** What else beats along with the drum, at a rate of its own, and may be louder than the drum itself. */
export interface OtherPart {
  /** Its rate over the drum's lies between these. */
  readonly low: number;
  readonly high: number;
  /** How often it is heard at all. */
  readonly prior: number;
  /** Multiples of its rate at which its lines may stand: many for what knocks. */
  readonly multiples: number;
}

// Belt over drum, pi D / L of common pulleys and belts, and cages of drum bearings, (1 - d / D) / 2.
// A damaged belt slaps once or twice a turn, which gives a comb of lines.
// Rates whose multiples fall on the drum's own (2/3, 3/4, 1/2) are left out: nothing would tell them apart.
export const FRONT_BELT: readonly OtherPart[] = [
  { low: 0.672, high: 0.745, prior: 0.3, multiples: 6 },
];
export const TOP_BELT: readonly OtherPart[] = [
  { low: 0.46, high: 0.488, prior: 0.15, multiples: 6 },
  { low: 0.512, high: 0.55, prior: 0.15, multiples: 6 },
];
export const CAGE: OtherPart = { low: 0.354, high: 0.42, prior: 0.15, multiples: 2 };
const OTHER_EXPECTED = 0.5;

// How often any other line stands at a given place is counted in the clip itself, in steps of a factor two.
const TURN_STRAYS = [0.005, 0.01, 0.02, 0.04, 0.08];
const TURN_TABLES = TURN_STRAYS.map((stray) => ({
  stray,
  turns: TURN_EXPECTED.map((p) => oddsTable(p, stray)),
  other: oddsTable(OTHER_EXPECTED, stray),
}));
type TurnTables = (typeof TURN_TABLES)[number];

const STANDS_OUT = 4;
const LINE_HZ = 0.2;

/** Tables for a spectrum by the share of its places at which a line stands out. */
function tablesFor(turn: LineSpectrum): TurnTables {
  const { z, binHz } = turn;
  let lines = 0;
  for (let k = 1; k + 1 < z.length; k++) {
    if (z[k]! > STANDS_OUT && z[k]! >= z[k - 1]! && z[k]! > z[k + 1]!) lines++;
  }
  const share = (lines * LINE_HZ) / (z.length * binHz);
  return TURN_TABLES.find(({ stray }) => share <= stray) ?? TURN_TABLES.at(-1)!;
}

function scanOver(lowHz: number, highHz: number, oddsAt: (hz: number) => number): Scan {
  const firstLn = Math.log(lowHz);
  const count = Math.ceil((Math.log(highHz) - firstLn) / FINE_STEP) + 1;
  const odds = new Float64Array(count);
  for (let i = 0; i < count; i++) odds[i] = oddsAt(Math.exp(firstLn + i * FINE_STEP));
  return { firstLn, odds };
}

/**
 * Log-odds that a part beats along, over the places of the drum's scan: the mean over the rates that it
 * may have, so that a wide span has no unfair choice.
 */
function partOdds(
  turn: LineSpectrum,
  table: Float64Array,
  part: OtherPart,
  drum: Scan,
): Float64Array {
  const first = scanHz(drum, 0) * part.low;
  const count = Math.round(Math.log(part.high / part.low) / FINE_STEP) + 1;
  const last = scanHz(drum, drum.odds.length - 1) * part.high;
  const comb = scanOver(first, last, (hz) => {
    let sum = 0;
    for (let k = 1; k <= part.multiples; k++) sum += tableOdds(table, heightAt(turn, k * hz));
    return sum;
  });
  const sums = new Float64Array(comb.odds.length + 1);
  comb.odds.forEach((odds, i) => (sums[i + 1] = sums[i]! + Math.exp(odds)));
  return drum.odds.map((_, i) => {
    const to = Math.min(comb.odds.length, i + count);
    const mean = (sums[to]! - sums[i]!) / (to - i);
    return Math.log(1 - part.prior + part.prior * mean);
  });
}

export interface TurnScanOptions {
  readonly others: readonly OtherPart[];
}

/** Log-odds that the drum turns at each speed, from the modulation at its multiples and of what turns along. */
export function scanTurns(
  turn: LineSpectrum,
  lowHz: number,
  highHz: number,
  options: TurnScanOptions,
): Scan {
  const tables = tablesFor(turn);
  const drum = scanOver(lowHz, highHz, (hz) => {
    let sum = 0;
    for (let h = 0; h < tables.turns.length; h++) {
      sum += tableOdds(tables.turns[h]!, heightAt(turn, (h + 1) * hz));
    }
    return sum;
  });
  const odds = Float64Array.from(drum.odds);
  for (const part of options.others) {
    const along = partOdds(turn, tables.other, part, drum);
    for (let i = 0; i < odds.length; i++) odds[i]! += along[i]!;
  }
  return { firstLn: drum.firstLn, odds };
}

const TONE_EXPECTED = [0.6, 0.6, 0.5, 0.5, 0.45, 0.4, 0.35, 0.3, 0.3, 0.3, 0.25, 0.25];
const TONE_STRAY = 0.05;
const TONE_TABLES = TONE_EXPECTED.map((p) => oddsTable(p, TONE_STRAY));

export interface ToneScanOptions {
  readonly bandHz: readonly [number, number];
  /** Mains frequency whose multiples are left out because the speed stands still, or null. */
  readonly mainsHz: number | null;
}

/** Log-odds that a shaft turns at each speed, from the tones at its multiples. */
export function scanTones(
  tone: LineSpectrum,
  lowHz: number,
  highHz: number,
  options: ToneScanOptions,
): Scan {
  const low = Math.max(60, options.bandHz[0]);
  const high = Math.min(3600, options.bandHz[1]);
  const mains = options.mainsHz;
  return scanOver(lowHz, highHz, (hz) => {
    let sum = 0;
    for (let k = 0; k < TONE_TABLES.length; k++) {
      const at = (k + 1) * hz;
      if (at < low || at > high) continue;
      if (mains !== null && Math.abs(at / mains - Math.round(at / mains)) * mains < 1.6) continue;
      sum += tableOdds(TONE_TABLES[k]!, heightAt(tone, at));
    }
    return sum;
  });
}
