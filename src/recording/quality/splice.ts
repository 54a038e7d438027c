import { meanDb, type Levels } from "./levels.js";
import type { Hertz, Seconds } from "../../foundation/units.js";

const CHANGE_DB = 6;
const SIDE_SECONDS = 0.3;

// Distance between the octave levels before and after a frame, rms in dB.
function changeAt(levels: Levels, frame: number, side: number): number {
  let sum = 0;
  for (const band of levels.bandDb) {
    const before = meanDb(band, frame - side, frame - 1);
    const after = meanDb(band, frame + 2, frame + side + 1);
    sum += (after - before) ** 2;
  }
  return Math.sqrt(sum / levels.bandDb.length);
}

const bendAt = (samples: Float32Array, i: number): number =>
  Math.abs(samples[i - 1]! - 2 * samples[i]! + samples[i + 1]!);

/** Place of a single kink of the wave that has no equal within half a second; -1 when there is none. */
function loneKink(samples: Float32Array, centre: number, sampleRateHz: Hertz): number {
  const near = Math.round(0.08 * sampleRateHz);
  const far = Math.round(0.5 * sampleRateHz);
  const from = Math.max(1, centre - far);
  const to = Math.min(samples.length - 1, centre + far);
  let at = -1;
  let top = 0;
  for (let i = Math.max(1, centre - near); i < Math.min(to, centre + near); i++) {
    const bend = bendAt(samples, i);
    if (bend > top) {
      top = bend;
      at = i;
    }
  }
  // A click rings on; a cut is over within two samples.
  let rest = 0;
  for (let i = from; i < to; i++)
    if (Math.abs(i - at) > 2) rest = Math.max(rest, bendAt(samples, i));
  return top > 2 * rest ? at : -1;
}

/**
 * Times at which two recordings were joined: the octave levels change by 6 dB from one frame to the next
 * and stay, and the wave has a kink there that is twice any other nearby. A cut between two like sounds, or
 * one softened by a lossy codec, goes unseen.
 */
export function findSplices(samples: Float32Array, sampleRateHz: Hertz, levels: Levels): Seconds[] {
  const { hopSeconds, frameCount, windowSeconds } = levels.frames;
  const side = Math.round(SIDE_SECONDS / hopSeconds);
  const splices: Seconds[] = [];
  for (let f = side; f + side < frameCount && levels.bandDb.length > 0; f += 2) {
    if (changeAt(levels, f, side) < CHANGE_DB) continue;
    let best = f;
    for (let g = f; g < Math.min(frameCount - side, f + side); g++) {
      if (changeAt(levels, g, side) > changeAt(levels, best, side)) best = g;
    }
    const centre = Math.round((best * hopSeconds + windowSeconds / 2) * sampleRateHz);
    const kink = loneKink(samples, centre, sampleRateHz);
    if (kink >= 0) splices.push(kink / sampleRateHz);
    f = best + side;
  }
  return splices;
}
