import { controlAt } from "../sound/control.js";
import { eventsAtTurns, type TurnEvents } from "../sound/events.js";
import { addContact, addRings, type Ring } from "../sound/strike.js";
import { RATE_HZ } from "../sound/rate.js";
import type { Random } from "../../foundation/random.js";
import type { Stage } from "../stage.js";

/** Draws how something heavy or light rings when struck. */
export interface RingRange {
  readonly hz: readonly [number, number];
  readonly decaySeconds: readonly [number, number];
  readonly count: number;
}

export const drawRings = (range: RingRange, random: Random): Ring[] =>
  Array.from({ length: range.count }, () => ({
    hz: range.hz[0] * (range.hz[1] / range.hz[0]) ** random.uniform(),
    decaySeconds: random.between(...range.decaySeconds),
    gain: random.between(0.3, 1),
  }));

export const HEAVY: RingRange = { hz: [70, 450], decaySeconds: [0.02, 0.09], count: 5 };
export const DULL: RingRange = { hz: [80, 650], decaySeconds: [0.01, 0.05], count: 4 };
export const CLACK: RingRange = { hz: [500, 4200], decaySeconds: [0.003, 0.02], count: 4 };
export const TICK: RingRange = { hz: [900, 6000], decaySeconds: [0.0008, 0.006], count: 3 };
export const PING: RingRange = { hz: [2000, 9000], decaySeconds: [0.008, 0.04], count: 3 };

/** A blow: contact noise of a drawn length and the rings it sets off. */
export interface Blow {
  readonly rings: readonly Ring[];
  /** Length of the contact, seconds: short ones are bright. */
  readonly contactSeconds: number;
  /** Log-normal spread of the strength from blow to blow. */
  readonly spread: number;
}

export function strikeBlow(
  out: Float64Array,
  position: number,
  strength: number,
  blow: Blow,
  random: Random,
): void {
  const amplitude = strength * Math.exp(blow.spread * random.normal());
  addContact(out, position, 0.6 * amplitude, blow.contactSeconds);
  addRings(out, position, amplitude, blow.rings);
}

/** Blows at a shaft's marks, as strong as `strength` says at that moment; weak ones are left out. */
export interface TurnBlows {
  readonly turns: Float64Array;
  readonly events: TurnEvents;
  readonly blow: Blow;
  /** Strength from the sample position. */
  readonly strength: (position: number) => number;
  /** Timing scatter of each blow, seconds; not cumulative. */
  readonly scatterSeconds?: number;
}

export function addTurnBlows(stage: Stage, out: Float64Array, plan: TurnBlows): void {
  const { random } = stage;
  const scatter = (plan.scatterSeconds ?? 0) * RATE_HZ;
  for (const place of eventsAtTurns(plan.turns, plan.events, random)) {
    const strength = plan.strength(place);
    if (strength < 0.02) continue;
    strikeBlow(out, place + scatter * random.normal(), strength, plan.blow, random);
  }
}

/** Drum speed in turns per second at a sample, without its sign. */
export const drumSpeed = ({ motion }: Stage, position: number): number =>
  Math.abs(controlAt(motion.drumHz, position));

/** Blows right after each start, stop and reversal. */
export function addJerkBlows(stage: Stage, out: Float64Array, blow: Blow): void {
  const { random, motion } = stage;
  for (const seconds of motion.jerks) {
    const delay = random.between(0, 0.12);
    const first = (seconds + delay) * RATE_HZ;
    const strength = random.between(0.5, 1.2);
    strikeBlow(out, first, strength, blow, random);
    if (random.chance(0.4)) {
      strikeBlow(out, first + random.between(0.04, 0.15) * RATE_HZ, 0.5 * strength, blow, random);
    }
  }
}
