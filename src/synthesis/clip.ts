import { assertRange, WasherNoiseError } from "../foundation/errors.js";
import { createRandom, type Random } from "../foundation/random.js";
import type { Truth } from "../evaluation/truth.js";
import { drawPhone, hearThrough, recordWith, type PhoneDraw } from "./channel/phone.js";
import { drawRoom, reverberate, type RoomDraw } from "./channel/room.js";
import { faultToBackground } from "./fault-level.js";
import { FAULT_SOURCES } from "./faults/fault-sources.js";
import { moveWasher } from "./motion/motion.js";
import { drawProgramme } from "./motion/programmes.js";
import { needsOf } from "./needs.js";
import { otherSound } from "./other-sounds/other-sounds.js";
import type { OtherSoundKind } from "./other-sounds/kinds.js";
import type { ClipRequest } from "./request.js";
import { mixInto } from "./sound/level.js";
import { RATE_HZ } from "./sound/rate.js";
import type { Stage } from "./stage.js";
import { makeStems, type Place } from "./stems.js";
import { otherSoundTruth, washerTruth } from "./truth-beside.js";
import { drawWasher } from "./washer/drawn-washer.js";

/** A recording whose truth is known. */
export interface SyntheticClip {
  /** One channel, full scale ±1. */
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
  readonly truth: Truth;
}

function checkRequest(request: ClipRequest): void {
  assertRange("durationSeconds", request.durationSeconds ?? 15, 1, 600);
  assertRange("faultToBackgroundDb", request.faultToBackgroundDb ?? 0, -40, 60);
  assertRange("drumRpm", request.drumRpm ?? 100, 10, 2000);
  const unknown = request.faults.find((fault) => !(fault in FAULT_SOURCES));
  if (unknown !== undefined) {
    throw new WasherNoiseError(
      "out-of-range",
      `A fault must be a part that can be faulty, received "${unknown}"; leave the list empty for a machine in order.`,
      { fault: unknown },
    );
  }
}

function drawPlace(request: ClipRequest, random: Random): Place {
  const phone: PhoneDraw = { ...drawPhone(random.fork("phone")), ...request.phone };
  const room: RoomDraw = { ...drawRoom(random.fork("room")), ...request.room };
  return { phone, room };
}

function makeOtherSound(request: ClipRequest, kind: OtherSoundKind, random: Random): SyntheticClip {
  const place = drawPlace(request, random);
  const sampleCount = Math.round((request.durationSeconds ?? 15) * RATE_HZ);
  const samples = otherSound(kind, sampleCount, random.fork("sound"));
  reverberate(samples, new Float64Array(sampleCount), place.room, random.fork("tail"));
  hearThrough(place.phone, samples);
  return {
    samples: recordWith(place.phone, samples, random.fork("dither")),
    sampleRateHz: place.phone.sampleRateHz,
    truth: otherSoundTruth(request, kind, place),
  };
}

function setStage(request: ClipRequest, random: Random): Stage {
  const washer = drawWasher(request.machine, random.fork("washer"));
  const nominal = request.lineHz ?? random.fork("line").pick([50, 60] as const);
  const sampleCount = Math.round((request.durationSeconds ?? 15) * RATE_HZ);
  const lineHz = nominal * (1 + 0.0008 * random.fork("grid").normal());
  const programme = drawProgramme(request.phase, {
    washer,
    random: random.fork("motion"),
    sampleCount,
    needs: needsOf(request.faults, request.phase),
    drumRpm: request.drumRpm ?? null,
    lineHz,
  });
  const motion = moveWasher(programme, washer, sampleCount);
  return { random, motion, washer, phase: request.phase, lineHz, sampleCount };
}

/**
 * Makes one recording with known truth.
 *
 * Method: shaft angles from a drawn speed programme; each source of sound a function of its shaft's angle
 * and of its speed; each source through a path of its own, then room and phone. Deterministic: the same
 * request gives the same samples. Throws `out-of-range` for a request that cannot be met.
 */
export function synthesizeClip(request: ClipRequest): SyntheticClip {
  checkRequest(request);
  const random = createRandom(request.seed);
  if (request.otherSound) return makeOtherSound(request, request.otherSound, random);
  const stage = setStage(request, random);
  const place = drawPlace(request, random);
  const { fault, background, faultSounds } = makeStems(stage, request.faults, place);
  const asked = request.faultToBackgroundDb ?? random.fork("level").between(0, 12);
  const now = faultToBackground(fault, background);
  const audible = Number.isFinite(now);
  if (audible) mixInto(background, fault, 10 ** ((asked - now) / 20));
  return {
    samples: recordWith(place.phone, background, random.fork("dither")),
    sampleRateHz: place.phone.sampleRateHz,
    truth: washerTruth(request, stage, { place, faultSounds, levelDb: audible ? asked : null }),
  };
}
