import type { BitReader } from "../bit-reader.js";
import type { ChannelFrame, TnsFilter, WindowLayout } from "./frame.js";
import { AacSyntaxError } from "./syntax-error.js";

/** Reads `tns_data`. Source: ISO/IEC 14496-3, 4.6.9. */
export function readTns(reader: BitReader, layout: WindowLayout): TnsFilter[] {
  const isShort = layout.windowCount === 8;
  const filters: TnsFilter[] = [];
  for (let window = 0; window < layout.windowCount; window++) {
    const count = reader.read(isShort ? 1 : 2);
    if (count === 0) continue;
    const resolution = 3 + reader.read(1);
    let toBand = layout.edges.length - 1;
    for (let i = 0; i < count; i++) {
      const fromBand = Math.max(0, toBand - reader.read(isShort ? 4 : 6));
      const order = reader.read(isShort ? 3 : 5);
      if (order > (isShort ? 7 : 20)) throw new AacSyntaxError("noise-shaping order too high");
      if (order > 0) {
        const downwards = reader.read(1) === 1;
        const prediction = readPrediction(reader, order, resolution);
        filters.push({ window, fromBand, toBand, downwards, prediction });
      }
      toBand = fromBand;
    }
  }
  return filters;
}

function readPrediction(reader: BitReader, order: number, resolution: number): Float64Array {
  const bits = resolution - reader.read(1);
  const half = 2 ** (resolution - 1);
  const reflection = Float64Array.from({ length: order }, () => {
    const code = reader.read(bits);
    const value = code >= 2 ** (bits - 1) ? code - 2 ** bits : code;
    return Math.sin((value * Math.PI) / 2 / (value >= 0 ? half - 0.5 : half + 0.5));
  });
  const a = new Float64Array(order);
  const previous = new Float64Array(order);
  for (let m = 0; m < order; m++) {
    previous.set(a);
    for (let i = 0; i < m; i++) a[i] = previous[i]! + reflection[m]! * previous[m - 1 - i]!;
    a[m] = reflection[m]!;
  }
  return a;
}

/** Runs the noise-shaping filters of a frame over its lines, in place. */
export function applyTns(frame: ChannelFrame): void {
  const { layout, spectrum } = frame;
  const limit = Math.min(layout.tnsLimit, layout.bandCount);
  for (const filter of frame.tns) {
    const base = filter.window * layout.windowLines;
    const from = base + layout.edges[Math.min(filter.fromBand, limit)]!;
    const to = base + layout.edges[Math.min(filter.toBand, limit)]!;
    const step = filter.downwards ? -1 : 1;
    const a = filter.prediction;
    let line = filter.downwards ? to - 1 : from;
    for (let done = 0; done < to - from; done++, line += step) {
      let sum = spectrum[line]!;
      const reach = Math.min(done, a.length);
      for (let i = 1; i <= reach; i++) sum -= a[i - 1]! * spectrum[line - i * step]!;
      spectrum[line] = sum;
    }
  }
}
