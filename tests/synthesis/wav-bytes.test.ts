import wav from "wav-decoder";
import { describe, expect, it } from "vitest";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";

describe("wavBytes", () => {
  it("writes what an independent decoder reads back, to half a step of 16 bits", () => {
    const samples = Float32Array.from([0, 0.5, -0.5, 1, -1, 0.123456, 1.7]);
    const bytes = wavBytes(samples, 44_100);
    const read = wav.decode.sync(bytes.buffer as ArrayBuffer, { symmetric: true });
    expect(new DataView(bytes.buffer).getUint32(24, true)).toBe(44_100);
    expect(read.channelData).toHaveLength(1);
    const heard = read.channelData[0]!;
    expect(heard).toHaveLength(samples.length);
    [0, 0.5, -0.5, 1, -1, 0.123456, 1].forEach((value, i) => {
      expect(Math.abs(heard[i]! - value)).toBeLessThan(1.01 / 32_768);
    });
  });
});
