import { imdct } from "../imdct.js";
import { EIGHT_SHORT, LONG_START, LONG_STOP, type WindowLayout } from "./frame.js";

/** What one channel carries from frame to frame. */
export interface ChannelState {
  /** The second half of the last frame, shape [1024]. */
  readonly overlap: Float64Array;
  previousShape: number;
}

export const createChannelState = (): ChannelState => ({
  overlap: new Float64Array(1024),
  previousShape: 0,
});

const FULL_SCALE = 32768;

function besselI0(x: number): number {
  let sum = 1;
  let term = 1;
  for (let k = 1; term > 1e-18 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

// Rising half of the Kaiser-Bessel derived window. Source: ISO/IEC 14496-3, 4.6.11.3.2.
function kaiserBesselHalf(length: number, alpha: number): Float64Array {
  const kaiser = Array.from({ length: length + 1 }, (_, n) =>
    besselI0(Math.PI * alpha * Math.sqrt(1 - ((2 * n) / length - 1) ** 2)),
  );
  const total = kaiser.reduce((sum, value) => sum + value, 0);
  let sum = 0;
  return Float64Array.from({ length }, (_, n) => Math.sqrt((sum += kaiser[n]!) / total));
}

const sineHalf = (length: number): Float64Array =>
  Float64Array.from({ length }, (_, n) => Math.sin((Math.PI / (2 * length)) * (n + 0.5)));

const longHalves = [sineHalf(1024), kaiserBesselHalf(1024, 4)];
const shortHalves = [sineHalf(128), kaiserBesselHalf(128, 6)];

const long = imdct(2048);
const short = imdct(256);
const frameBuffer = new Float64Array(2048);
const shortBuffer = new Float64Array(256);
const shortLines = new Float64Array(128);

/**
 * Lines to samples: inverse transform, window, overlap-add with the last frame.
 *
 * @param spectrum shape [1024]
 * @param out shape [1024], full scale ±1
 */
export function synthesise(
  spectrum: Float64Array,
  layout: WindowLayout,
  state: ChannelState,
  out: Float32Array,
): void {
  if (layout.sequence === EIGHT_SHORT) eightShort(spectrum, layout.shape, state.previousShape);
  else oneLong(spectrum, layout, state.previousShape);
  const { overlap } = state;
  for (let i = 0; i < 1024; i++) {
    out[i] = (frameBuffer[i]! + overlap[i]!) / FULL_SCALE;
    overlap[i] = frameBuffer[1024 + i]!;
  }
  state.previousShape = layout.shape;
}

function oneLong(spectrum: Float64Array, layout: WindowLayout, previousShape: number): void {
  long.inverse(spectrum, frameBuffer);
  const scale = 2 / 2048;
  if (layout.sequence === LONG_STOP) riseSteep(shortHalves[previousShape]!, scale);
  else {
    const rise = longHalves[previousShape]!;
    for (let i = 0; i < 1024; i++) frameBuffer[i]! *= rise[i]! * scale;
  }
  if (layout.sequence === LONG_START) fallSteep(shortHalves[layout.shape]!, scale);
  else {
    const fall = longHalves[layout.shape]!;
    for (let i = 0; i < 1024; i++) frameBuffer[1024 + i]! *= fall[1023 - i]! * scale;
  }
}

function riseSteep(rise: Float64Array, scale: number): void {
  frameBuffer.fill(0, 0, 448);
  for (let i = 0; i < 128; i++) frameBuffer[448 + i]! *= rise[i]! * scale;
  for (let i = 576; i < 1024; i++) frameBuffer[i]! *= scale;
}

function fallSteep(fall: Float64Array, scale: number): void {
  for (let i = 1024; i < 1472; i++) frameBuffer[i]! *= scale;
  for (let i = 0; i < 128; i++) frameBuffer[1472 + i]! *= fall[127 - i]! * scale;
  frameBuffer.fill(0, 1600);
}

function eightShort(spectrum: Float64Array, shape: number, previousShape: number): void {
  const scale = 2 / 256;
  const fall = shortHalves[shape]!;
  frameBuffer.fill(0);
  for (let window = 0; window < 8; window++) {
    shortLines.set(spectrum.subarray(128 * window, 128 * (window + 1)));
    short.inverse(shortLines, shortBuffer);
    const rise = window === 0 ? shortHalves[previousShape]! : fall;
    const base = 448 + 128 * window;
    for (let i = 0; i < 128; i++) {
      frameBuffer[base + i]! += shortBuffer[i]! * rise[i]! * scale;
      frameBuffer[base + 128 + i]! += shortBuffer[128 + i]! * fall[127 - i]! * scale;
    }
  }
}
