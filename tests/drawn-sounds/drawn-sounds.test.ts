import { describe, expect, it } from "vitest";
import { COMPONENTS } from "../../src/machine/words.js";
import { truthSchema } from "../../src/evaluation/truth.js";
import { drawClip, drawParts, recordParts } from "./clip.js";
import { FAULTS } from "./fault-table.js";
import { machinesWith } from "./machine.js";

// In these all phases come up.
const SEEDS = Array.from({ length: 14 }, (_, k) => 962 + k);
const SHARES = { normalShare: 0.2, notWasherShare: 0.1, seconds: 6 };
const parts = SEEDS.map((seed) => drawParts(seed, SHARES));
const clips = parts.slice(0, 8).map(recordParts);

/** Level over the rest in the tenths of a second that hold the fault, counted apart from the generator. */
function levelDb(fault: Float32Array, rest: Float32Array, rateHz: number): number {
  const frame = Math.round(rateHz / 20);
  const frames = Array.from({ length: Math.floor(fault.length / frame) }, (_, k) => {
    let [own, other] = [0, 0];
    for (let n = k * frame; n < (k + 1) * frame; n++) {
      own += fault[n]! ** 2;
      other += rest[n]! ** 2;
    }
    return { own, other };
  });
  const loudest = Math.max(...frames.map(({ own }) => own));
  const held = frames.filter(({ own }) => own >= loudest / 100);
  const sum = (pick: "own" | "other") => held.reduce((total, row) => total + row[pick], 0);
  return 10 * Math.log10(sum("own") / sum("other"));
}

describe("drawn sounds", () => {
  it("give the same bytes for the same seed and others for another", () => {
    const [a, b, c] = [clips[0]!, drawClip(SEEDS[0]!, SHARES), clips[1]!];
    expect(Buffer.compare(Buffer.from(a.samples.buffer), Buffer.from(b.samples.buffer))).toBe(0);
    expect(a.truth).toEqual(b.truth);
    expect(Buffer.from(a.samples.buffer).equals(Buffer.from(c.samples.buffer))).toBe(false);
  });

  it("carry a truth that the contract's schema takes, of a part the machine has", () => {
    for (const { truth } of parts) {
      expect(truthSchema.safeParse(truth).error).toBeUndefined();
      for (const part of truth.faults) {
        expect(machinesWith(part as (typeof COMPONENTS)[number])).toContain(truth.machine);
      }
    }
  });

  it("hold the fault as far over everything else as the truth says", () => {
    const faulty = parts.filter(({ truth }) => truth.faults.length > 0);
    expect(faulty.length).toBeGreaterThan(6);
    for (const { fault, rest, phone, truth } of faulty) {
      expect(levelDb(fault, rest, phone.rateHz)).toBeCloseTo(truth.faultToBackgroundDb!, 0);
    }
  });

  it("never clip, fall silent or hold a number that is none", () => {
    for (const { samples } of clips) {
      expect(samples.every((value) => Number.isFinite(value) && Math.abs(value) < 1)).toBe(true);
      expect(samples.some((value) => Math.abs(value) > 0.01)).toBe(true);
    }
  });

  it("know every part and every phase", () => {
    const named = new Set(FAULTS.map((fault) => fault.component));
    expect(COMPONENTS.filter((part) => !named.has(part))).toEqual(["normal", "other"]);
    const phases = new Set(parts.map(({ truth }) => truth.phase));
    expect([...phases]).toEqual(
      expect.arrayContaining(["fill", "wash", "drain", "spin", "coast", "hand-spin"]),
    );
  });
});
