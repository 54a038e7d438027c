import { simesCombine } from "../../foundation/significance.js";
import { clamp, mean, median } from "../../foundation/statistics.js";
import { thinned } from "../character/level-series.js";
import type { BandName, ListeningContext } from "../context.js";
import type { Measurement, MissingReason } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { measured, missing } from "../measurement.js";
import {
  angleSpread,
  blowOf,
  crestOf,
  gatingOf,
  meanProfile,
  turnRises,
  type Blow,
} from "./blow-profile.js";
import { logLevel, orderPowers, withoutSwell, type OrderPowers } from "./order-test.js";
import { slowBeat } from "./slow-beat.js";
import { thumpAtEnd, thumpsBySpeed } from "./thump-speeds.js";
import { tumbleClock } from "./tumble-rate.js";
import {
  cellMeans,
  turnBlocks,
  turnRpm,
  turnsOf,
  type TurnBlock,
  type Turns,
} from "./turn-grid.js";

const TURN_IDS = [
  "turn-modulation",
  "turn-modulation-p",
  "turn-impact",
  "turn-impact-low",
  "turn-impact-high",
  "turn-impact-crest",
  "turn-double",
  "turn-triple",
  "turn-half",
  "turn-misses",
  "turn-phase-spread",
  "turn-slow-beat",
  "thump-window",
  "thump-at-speed",
  "thump-at-end",
  "tumble-clack",
  "scrape-gated",
] as const satisfies readonly FeatureId[];
type TurnId = (typeof TURN_IDS)[number];
type TurnRow = Record<TurnId, Measurement>;

const LONG_BLOCK = 20;
const SHORT_BLOCK = 8;
const LEAST_TURNS = 8;
/** Largest part of a turn by which the speed's error may carry the phase away within a block. */
const LARGEST_DRIFT_TURNS = 0.06;
const SLOW_DRUM_HZ = 1.3;
/** Over this p-value a rhythm is not there, and its shape is not described. */
const HEARD_P = 0.05;
const TUMBLE_RPM = 70;
const LEVEL_RATE_HZ = 1000;
const SHARP_MULTIPLES = [3, 4, 5, 6, 7, 8];
const MODULATED_BANDS = [
  ["octave-500", 1000],
  ["octave-1k", 2000],
  ["octave-2k", 4000],
  ["octave-4k", 6000],
] as const satisfies readonly (readonly [BandName, number])[];

const allMissing = (reason: MissingReason): TurnRow =>
  Object.fromEntries(TURN_IDS.map((id) => [id, missing(reason)])) as TurnRow;

/** Everything that the rows of one clip are read from. */
interface TurnScene {
  readonly context: ListeningContext;
  readonly turns: Turns;
  /** Power over the angle at 60-500 Hz and at 1-6 kHz, shape [turns * CELLS]. */
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly blocks: readonly TurnBlock[];
  readonly blockTurns: number;
  readonly quality: number;
  readonly orders: OrderPowers;
}

function blockSize(context: ListeningContext, drumHz: number): number {
  if (drumHz < SLOW_DRUM_HZ) return SHORT_BLOCK;
  const steady = Math.round(LARGEST_DRIFT_TURNS / Math.max(1e-4, context.speed.relativeError));
  return clamp(steady, SHORT_BLOCK, LONG_BLOCK);
}

function trustIn(context: ListeningContext, drumHz: number, guessed: boolean): number {
  const { gainPumping, noiseSuppressed, voiceCodec } = context.recording.quality;
  return (
    (guessed ? 0.5 : 1) *
    (gainPumping && drumHz < 2 ? 0.4 : 1) *
    (noiseSuppressed ? 0.6 : 1) *
    (voiceCodec ? 0.7 : 1)
  );
}

function turnScene(context: ListeningContext): TurnScene | MissingReason {
  const told = context.speed.drumRpm === null ? null : context.drumClock;
  const clock = told ?? tumbleClock(context);
  if (clock === null) return "speed";
  const turns = turnsOf(context, clock);
  const rates = Array.from(turns.valid).flatMap((ok, t) => (ok ? [turnRpm(turns, t) / 60] : []));
  if (rates.length < LEAST_TURNS) return "short";
  const drumHz = median(rates);
  const blockTurns = blockSize(context, drumHz);
  const blocks = turnBlocks(turns, blockTurns, Math.max(6, blockTurns / 2));
  if (blocks.length === 0) return "short";
  const bands = MODULATED_BANDS.filter(([, needsHz]) => context.recording.bandHz[1] >= needsHz);
  if (bands.length === 0) return "band";
  const overAngle = (band: BandName): Float64Array =>
    cellMeans(turns, thinned(context.envelope(band), LEVEL_RATE_HZ));
  const powers = bands.map(([band]) => overAngle(band));
  return {
    context,
    turns,
    low: overAngle("low-blow"),
    high: overAngle("contact"),
    blocks,
    blockTurns,
    quality: trustIn(context, drumHz, told === null) * clamp(rates.length / 60, 0.3, 1),
    orders: orderPowers(
      blocks.map((block) => logLevel(powers, block)),
      blockTurns,
    ),
  };
}

function modulationRows({ orders, quality }: TurnScene): Partial<TurnRow> {
  const p = orders.p(1);
  const once = orders.excess(1);
  const heard = Math.min(p, orders.p(2), orders.p(3)) < HEARD_P;
  const against = (order: number): Measurement =>
    heard
      ? measured(
          10 *
            Math.log10(
              Math.max(orders.excess(order), orders.noise(order) / 3) /
                Math.max(once, orders.noise(1) / 3),
            ),
          quality,
        )
      : missing("no-events");
  return {
    "turn-modulation": measured(Math.sqrt(Math.max(0, once)), quality, { p }),
    "turn-modulation-p": measured(p, quality),
    "turn-double": against(2),
    "turn-triple": against(3),
    "turn-half": measured(orders.p(0.5), quality),
  };
}

/**
 * p-value that something sharp keeps to the drum's angle in blocks slower than `fastestRpm`: multiples 3 to 8
 * of the turn in the level's order spectrum, after a smooth swell has been divided out.
 */
function lockOf(scene: TurnScene, power: Float64Array, fastestRpm = Infinity): number | null {
  const chosen = scene.blocks
    .filter(({ hz }) => 60 * hz < fastestRpm)
    .map((block) => withoutSwell(logLevel([power], block)));
  return chosen.length === 0 ? null : orderPowers(chosen, scene.blockTurns).combP(SHARP_MULTIPLES);
}

function shapeRows(scene: TurnScene, low: readonly Blow[], high: readonly Blow[]) {
  const { quality } = scene;
  const typical = (blows: readonly Blow[]): number => median(blows.map(({ db }) => db));
  const lowLeads = typical(low) >= typical(high);
  const [blows, power] = lowLeads ? [low, scene.low] : [high, scene.high];
  const usual = Math.max(1, typical(blows));
  const rises = blows.flatMap((blow) => turnRises(power, blow));
  return {
    "turn-impact-crest": measured(crestOf(meanProfile(blows)), quality, {
      band: lowLeads ? "low" : "high",
    }),
    "turn-misses": measured(rises.filter((db) => db < 0.4 * usual).length / rises.length, quality),
    "turn-phase-spread": measured(mean(blows.map((blow) => angleSpread(power, blow))), quality),
    "turn-slow-beat": slowBeat(power, scene.blocks, quality),
  } satisfies Partial<TurnRow>;
}

function blowRows(scene: TurnScene): Partial<TurnRow> {
  const { context, quality, blocks, orders } = scene;
  const lowP = lockOf(scene, scene.low) ?? 1;
  const highP = lockOf(scene, scene.high) ?? 1;
  const clackP = lockOf(scene, scene.high, TUMBLE_RPM);
  const impact = simesCombine([lowP, highP]);
  const low = blocks.map((block) => blowOf(scene.low, block));
  const high = blocks.map((block) => blowOf(scene.high, block));
  const typical = (blows: readonly Blow[]): number => median(blows.map(({ db }) => db));
  const hasLow = context.recording.bandHz[0] <= 250;
  const heard = impact < HEARD_P || orders.p(1) < HEARD_P;
  return {
    "turn-impact": measured(impact, quality, { lowP, highP }),
    "turn-impact-low": hasLow ? measured(typical(low), quality) : missing("band"),
    "turn-impact-high": measured(typical(high), quality),
    ...(heard
      ? shapeRows(scene, low, high)
      : {
          "turn-impact-crest": missing("no-events"),
          "turn-misses": missing("no-events"),
          "turn-phase-spread": missing("no-events"),
          "turn-slow-beat": missing("no-events"),
        }),
    "scrape-gated": measured(gatingOf(meanProfile(high)), quality),
    "tumble-clack": clackP === null ? missing("phase") : measured(clackP, quality),
    ...thumpsBySpeed(scene.turns, scene.low, hasLow ? quality : 0.3 * quality),
    "thump-at-end": thumpAtEnd(scene.turns, scene.low, quality),
  };
}

/**
 * What happens once per drum turn: level modulation, blows, their shape and where in the speed range
 * they come. Without a speed the tumbling rate is sought in the blows' own rhythm (at half the trust);
 * every row is missing when there is none.
 */
export function observeTurn(context: ListeningContext): Partial<Record<FeatureId, Measurement>> {
  const scene = turnScene(context);
  if (typeof scene === "string") return allMissing(scene);
  return { ...modulationRows(scene), ...blowRows(scene) };
}
