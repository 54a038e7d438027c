import { scaleLinear, scaleLog } from "d3-scale";
import type { Curve, ModulationData } from "../../answer/picture-data.js";
import { html, type Markup } from "../html/markup.js";
import { bottomAxis, decadeTicks, leftAxis, plain } from "./axes.js";
import { curveMarkup, numbered, numberFlags, overlayKey, overlayMarkup } from "./order-picture.js";
import { drawing, label, upright, type Frame } from "./svg.js";

const LOW_HZ = 0.5;
/** Room for the numbers of lines above the title of the first strip. */
const TOP = 60;

const within = ({ overDb, first, step }: Curve, topHz: number): Float64Array =>
  overDb.subarray(0, Math.ceil((topHz - first) / step));

const highestOf = ({ bands, topHz }: ModulationData): number =>
  bands.reduce(
    (most, { curve }) => Math.max(most, ...(curve === null ? [] : within(curve, topHz))),
    6,
  );

/**
 * How strongly each octave of the sound beats, by beats per second, one strip an octave.
 * `after`: the same of a later recording, drawn over it.
 */
export function modulationPicture(
  data: ModulationData,
  width: number,
  after?: ModulationData,
): Markup {
  const small = width < 500;
  const strip = small ? 66 : 76;
  const gap = 24;
  const frame: Frame = {
    width,
    height: TOP + data.bands.length * (strip + gap) + 34,
    left: small ? 48 : 58,
    right: width - 12,
    top: TOP,
    bottom: TOP + data.bands.length * (strip + gap) - gap,
  };
  const x = scaleLog([LOW_HZ, data.topHz], [frame.left, frame.right]);
  const highest = Math.max(
    highestOf(data),
    after === undefined ? 0 : highestOf({ ...after, topHz: Math.min(data.topHz, after.topHz) }),
  );
  const topDb = Math.ceil((highest + 1) / 5) * 5;
  const strips = [...data.bands].reverse().map(({ label: name, lowHz, curve }, i) => {
    const top = frame.top + i * (strip + gap);
    const inner: Frame = { ...frame, top, bottom: top + strip };
    const y = scaleLinear([0, topDb], [inner.bottom, inner.top]);
    const title = label(frame.left + 2, top - 6, `sound of ${name}`, { name: "strip" });
    if (curve === null) {
      return html`${title}${label(frame.left + 8, top + strip / 2, "the recording does not carry this octave", { name: "note" })}`;
    }
    const later = after?.bands.find((band) => band.lowHz === lowHz)?.curve ?? null;
    const span = [LOW_HZ, data.topHz] as const;
    return html`${leftAxis(y, inner, { unit: "", ticks: [0, Math.floor(topDb / 2 / 5) * 5, topDb] })}${curveMarkup(curve, x, y, span)}${later === null ? null : overlayMarkup(later, x, y, span)}${title}`;
  });
  const heard = numbered(data.marks);
  return drawing(
    frame,
    `Beating of four octaves of the sound by beats per second${after === undefined ? "" : " before and after"}, up to ${plain(data.topHz)} Hz. ${heard.length} of ${data.marks.length} places looked at stand out; the table below lists them.`,
    html`${strips}${upright(12, (frame.top + frame.bottom) / 2, "beating over background, dB")}${after === undefined ? null : overlayKey(frame.right)}${numberFlags(heard, x, { ...frame, top: TOP - 20 })}${bottomAxis(x, frame, { unit: "beats per second, Hz", ticks: decadeTicks(LOW_HZ, data.topHz), grid: false })}`,
  );
}
