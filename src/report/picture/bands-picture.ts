import { scaleLinear, scaleLog } from "d3-scale";
import { line } from "d3-shape";
import type { BandLevels } from "../../answer/compare-picture-data.js";
import { html, type Markup } from "../html/markup.js";
import { bottomAxis, decadeTicks, hertz, leftAxis } from "./axes.js";
import { spreadOut } from "./marks.js";
import { box, drawing, label, path, type Frame } from "./svg.js";

/** Levels of both recordings by third octaves, each over the middle of its own spectrum. */
export function bandsPicture(
  bands: readonly BandLevels[],
  noiseBandHz: readonly [number, number] | null,
  width: number,
): Markup {
  const small = width < 500;
  const frame: Frame = {
    width,
    height: small ? 262 : 322,
    left: 58,
    right: width - 58,
    top: 26,
    bottom: small ? 214 : 274,
  };
  const all = bands.flatMap(({ beforeDb, afterDb }) => [beforeDb, afterDb]);
  const [lowHz, highHz] = [bands[0]!.midHz / 1.1, bands.at(-1)!.midHz * 1.1];
  const x = scaleLog([lowHz, highHz], [frame.left, frame.right]);
  const y = scaleLinear(
    [Math.floor(Math.min(...all) / 10) * 10, Math.ceil(Math.max(...all) / 10) * 10],
    [frame.bottom, frame.top],
  );
  const curve = (of: (band: BandLevels) => number): string | null =>
    line<BandLevels>()
      .digits(1)
      .x(({ midHz }) => x(midHz))
      .y((band) => y(of(band)))([...bands]);
  const last = bands.at(-1)!;
  const [wasAt, isAt] = spreadOut([y(last.beforeDb), y(last.afterDb)], 15, [
    frame.top + 6,
    frame.bottom - 4,
  ]) as [number, number];
  const shade = (): Markup | null => {
    if (noiseBandHz === null) return null;
    const [from, to] = noiseBandHz.map((hz) => x(Math.min(highHz, Math.max(lowHz, hz))));
    const middle = (from! + to!) / 2;
    return html`${box(from!, frame.top, [to! - from!, frame.bottom - frame.top], "unused")}${label(middle, frame.top - 8, "the noise is heard best here", { anchor: "middle", name: "note" })}`;
  };
  const widest = bands.reduce((most, band) =>
    Math.abs(band.beforeDb - band.afterDb) > Math.abs(most.beforeDb - most.afterDb) ? band : most,
  );
  const change = widest.afterDb - widest.beforeDb;
  return drawing(
    frame,
    `Spectra before and after in ${bands.length} third octaves, each over its own middle. They differ most at ${hertz(widest.midHz)}Hz: ${Math.abs(change).toFixed(0)} dB ${change < 0 ? "less" : "more"} after.`,
    html`${shade()}${leftAxis(y, frame, { unit: "level over own middle, dB" })}${bottomAxis(x, frame, { unit: "pitch, Hz (third octaves)", ticks: decadeTicks(lowHz, highHz), format: hertz })}${path(
      curve(({ beforeDb }) => beforeDb),
      "level whole",
    )}${path(
      curve(({ afterDb }) => afterDb),
      "level high",
    )}${label(frame.right + 6, wasAt + 4, "before")}${label(frame.right + 6, isAt + 4, "after")}`,
  );
}
