import type { Exploration } from "./exploration.js";
import { scanHz } from "./family-scan.js";
import { hearingOf } from "./hearing.js";
import { RACE_OFFSETS } from "../machine/bearing-families.js";
import { isHeard } from "./is-heard.js";
import { placeOfTop, type CourseJudge, type JudgedCourse } from "./judge-course.js";
import type { Reading } from "./reading.js";
import { heightAt, oddsTable, tableOdds } from "./line-odds.js";

/** Log-odds of the tones along a course from which a motor counts as heard; noise and hum stay under 5. */
const LEAST_ODDS = 11;
const LEAST_TONES = 3;
const LEAST_SHARE = 0.7;

/** A motor that is heard while its drum is not. */
export interface MotorAlone {
  readonly typicalHz: number;
  /** Shape [frames]. */
  readonly trackHz: Float64Array;
}

interface Family {
  readonly judged: JudgedCourse;
  readonly hz: number;
  readonly odds: number;
  /** The tones are those of a bearing's races, not of whole multiples. */
  readonly races: boolean;
}

const RACE_TABLE = oddsTable(0.5, 0.05);
const RACE_MULTIPLES = 6;
/** What a family of races must have more than whole multiples, which need fewer lines. */
const RACES_MORE = 3;

// Tones at a fixed share beside the multiples, as the races of a worn bearing give.
function raceOdds({ spectra }: JudgedCourse, hz: number, offset: number, lowHz: number): number {
  let sum = 0;
  for (let k = 1; k <= RACE_MULTIPLES; k++) {
    for (const at of [(k - offset) * hz, (k + offset) * hz]) {
      if (at >= lowHz) sum += tableOdds(RACE_TABLE, heightAt(spectra.tone, at));
    }
  }
  return sum;
}

function bestRaces(judged: JudgedCourse, lowHz: number): Family {
  let best: Family = { judged, hz: 0, odds: -Infinity, races: true };
  for (let i = 0; i < judged.tones.odds.length; i++) {
    const hz = scanHz(judged.tones, i);
    for (const offset of RACE_OFFSETS) {
      const odds = raceOdds(judged, hz, offset, lowHz) - RACES_MORE;
      if (odds > best.odds) best = { judged, hz, odds, races: true };
    }
  }
  return best;
}

function bestFamily(judged: JudgedCourse, lowHz: number): Family {
  const { odds } = judged.tones;
  const place = placeOfTop(odds);
  const hz = scanHz(judged.tones, place);
  const whole: Family = { judged, hz, odds: odds[place] ?? -Infinity, races: false };
  const races = bestRaces(judged, lowHz);
  return races.odds > whole.odds ? races : whole;
}

/** A rate this close to two, three or four turns of a drum that is heard, though not for certain, is the drum's. */
const SAME_RATE = 0.025;
const DRUM_MULTIPLES = 4;

function belongsToDrum(hz: number, judge: CourseJudge, readings: readonly Reading[]): boolean {
  return readings.some((reading) => {
    const drumHz = reading.drumHz * reading.judged.prior.plateauShare;
    const multiple = Math.round(hz / drumHz);
    if (multiple < 1 || multiple > DRUM_MULTIPLES || !isHeard(judge, reading)) return false;
    return Math.abs(Math.log(hz / (multiple * drumHz))) < SAME_RATE;
  });
}

/**
 * The motor's own speed where the drum's turn does not show: tones at multiples of one rate, moving
 * together. A fault of the motor drowns the drum, and a drum's speed does not follow from the motor's while
 * the ratio is not known. Only for motors that turn faster than the drum, and where a spin or run-down
 * was told: music and whistles have families, too.
 */
export function motorAlone({ judge, readings }: Exploration): MotorAlone | null {
  if (!judge.turning || judge.sources.some(({ motorPerTone }) => motorPerTone !== 1)) return null;
  const lowHz = Math.max(60, judge.bandHz[0]);
  const families = [...new Set(readings.map(({ judged }) => judged))].map((judged) =>
    bestFamily(judged, lowHz),
  );
  const best = families.reduce<Family | null>(
    (top, one) => (top === null || one.odds > top.odds ? one : top),
    null,
  );
  if (best === null || best.odds < LEAST_ODDS) return null;
  const { judged, hz, races } = best;
  const { toneCount, toneShare } = hearingOf(judged, hz, hz);
  if (!races && (toneCount < LEAST_TONES || toneShare < LEAST_SHARE)) return null;
  const trackHz = judged.course.map((value) => hz * Math.exp(value));
  const typicalHz = trackHz.reduce((sum, v) => sum + v, 0) / trackHz.length;
  return belongsToDrum(typicalHz, judge, readings) ? null : { typicalHz, trackHz };
}
