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
const TURN_STRAY = 0.04;
const BELT_EXPECTED = 0.5;
const BELT_PRIOR = 0.3;
// Belt rate over drum rate of front loaders, pi D / L of common pulleys and belts.
const BELT_LOW = 0.66;
const BELT_HIGH = 0.75;
const BELT_STEPS = 10;

const TURN_TABLES = TURN_EXPECTED.map((p) => oddsTable(p, TURN_STRAY));
const BELT_TABLE = oddsTable(BELT_EXPECTED, TURN_STRAY);

function beltOdds(turn: LineSpectrum, hz: number): number {
  let sum = 0;
  for (let b = 0; b < BELT_STEPS; b++) {
    const belt = hz * (BELT_LOW + ((b + 0.5) * (BELT_HIGH - BELT_LOW)) / BELT_STEPS);
    sum += Math.exp(
      tableOdds(BELT_TABLE, heightAt(turn, belt)) + tableOdds(BELT_TABLE, heightAt(turn, 2 * belt)),
    );
  }
  return Math.log(1 - BELT_PRIOR + (BELT_PRIOR * sum) / BELT_STEPS);
}

function scanOver(lowHz: number, highHz: number, oddsAt: (hz: number) => number): Scan {
  const firstLn = Math.log(lowHz);
  const count = Math.ceil((Math.log(highHz) - firstLn) / FINE_STEP) + 1;
  const odds = new Float64Array(count);
  for (let i = 0; i < count; i++) odds[i] = oddsAt(Math.exp(firstLn + i * FINE_STEP));
  return { firstLn, odds };
}

export interface TurnScanOptions {
  readonly belt: boolean;
}

/** Log-odds that the drum turns at each speed, from the modulation at its multiples. */
export function scanTurns(
  turn: LineSpectrum,
  lowHz: number,
  highHz: number,
  options: TurnScanOptions,
): Scan {
  return scanOver(lowHz, highHz, (hz) => {
    let sum = 0;
    for (let h = 0; h < TURN_TABLES.length; h++) {
      sum += tableOdds(TURN_TABLES[h]!, heightAt(turn, (h + 1) * hz));
    }
    return options.belt ? sum + beltOdds(turn, hz) : sum;
  });
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
