import { decode } from "fast-png";
import { describe, expect, it } from "vitest";
import { LEVEL_STEPS, type SpectrogramData } from "../../../src/answer/picture-data.js";
import { decadeTicks, hertz, plain } from "../../../src/report/picture/axes.js";
import { confusionPicture } from "../../../src/report/picture/confusion-picture.js";
import { sign, spreadOut } from "../../../src/report/picture/marks.js";
import { rankingPicture } from "../../../src/report/picture/ranking-picture.js";
import { reliabilityPicture } from "../../../src/report/picture/reliability-picture.js";
import { sharesKey, sharesPicture } from "../../../src/report/picture/shares-picture.js";
import { spectrogramPng } from "../../../src/report/picture/spectrogram-picture.js";

/** Relative luminance of an sRGB colour: WCAG 2.1, definition of relative luminance. */
function luminance([r, g, b]: readonly number[]): number {
  const linear = [r!, g!, b!].map((c) => {
    const s = c / 255;
    return s <= 0.03928 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * linear[0]! + 0.7152 * linear[1]! + 0.0722 * linear[2]!;
}

const ladder: SpectrogramData = {
  columns: LEVEL_STEPS,
  rows: 2,
  // The lower row rises from quiet to loud, the upper one is quiet.
  steps: Uint8Array.from({ length: 2 * LEVEL_STEPS }, (_, i) => (i < LEVEL_STEPS ? i : 0)),
  quietDb: -90,
  loudDb: -30,
  lowHz: 10,
  highHz: 8000,
  seconds: 1,
  drum: null,
  lines: [],
  octaves: [],
};

const numbersIn = (text: string, pattern: RegExp): number[] =>
  [...text.matchAll(pattern)].map((match) => Number(match[1]));

describe("the spectrogram's image", () => {
  const { width, height, data } = decode(spectrogramPng(ladder));
  const pixel = (x: number, y: number): number[] => [
    ...data.subarray(3 * (y * width + x), 3 * (y * width + x) + 3),
  ];

  it("has one pixel a step of time and pitch, high pitch on top", () => {
    expect([width, height]).toEqual([LEVEL_STEPS, 2]);
    expect(pixel(LEVEL_STEPS - 1, 0)).toEqual(pixel(0, 0));
    expect(pixel(LEVEL_STEPS - 1, 1)).not.toEqual(pixel(0, 1));
  });

  it("grows darker with every step of level, so that it reads in grey and to every eye", () => {
    const shades = Array.from({ length: LEVEL_STEPS }, (_, x) => luminance(pixel(x, 1)));
    for (let i = 1; i < shades.length; i++) expect(shades[i]).toBeLessThan(shades[i - 1]!);
    expect(shades[0]! / shades.at(-1)!).toBeGreaterThan(10);
  });
});

describe("drawings", () => {
  it("keep labels apart and within their limits, in their order", () => {
    const spread = spreadOut([50, 52, 51, 200, 199], 10, [0, 200]);
    const sorted = [spread[0]!, spread[2]!, spread[1]!, spread[4]!, spread[3]!];
    for (let i = 1; i < sorted.length; i++) {
      expect(sorted[i]! - sorted[i - 1]!).toBeGreaterThanOrEqual(10 - 1e-9);
    }
    expect(Math.max(...spread)).toBeLessThanOrEqual(200);
  });

  it("tell families of lines apart by shape, not by colour", () => {
    const families = [
      "drum",
      "bearing",
      "belt",
      "motor",
      "gear",
      "pump",
      "mains",
      "other",
    ] as const;
    const shapes = families.map(
      (family) => / d="([^"]+)"/.exec(sign(family, 0, 0, "heard").source)![1],
    );
    expect(new Set(shapes).size).toBe(families.length);
    const looks = (["heard", "hint", "not heard"] as const).map(
      (certainty) => sign("drum", 0, 0, certainty).source,
    );
    expect(new Set(looks).size).toBe(3);
  });

  it("write numbers plainly", () => {
    expect([1.5, 24.69, 1481.2, 0.361, 20, 100].map(plain)).toEqual([
      "1.5",
      "24.7",
      "1481",
      "0.36",
      "20",
      "100",
    ]);
    expect([50, 1000, 2500].map(hertz)).toEqual(["50", "1 k", "2.5 k"]);
    expect(decadeTicks(30, 3000)).toEqual([50, 100, 200, 500, 1000, 2000]);
  });

  it("draw a chance and its interval to one scale", () => {
    const drawn = rankingPicture(
      [{ name: "Belt", chance: 0.5, low: 0.25, high: 0.75 }],
      820,
    ).source;
    const bar = Number(
      /width="([\d.]+)" height="12" class="bar"/.exec(drawn.replace(/\s+/g, " "))![1],
    );
    const ends = [
      .../x1="([\d.]+)" y1="[\d.]+" x2="([\d.]+)" y2="[\d.]+" class="whisker"/.exec(
        drawn.replace(/\s+/g, " "),
      )!,
    ]
      .slice(1)
      .map(Number);
    expect(ends[1]! - ends[0]!).toBeCloseTo(bar, 0);
    expect(drawn).toContain("50 %");
  });

  it("leave the words of the set clear of the parts above and below, on screens and phones", () => {
    const bars = ["Belt", "Pump", "Boot"].map((name) => ({
      name,
      chance: 0.3,
      low: 0.2,
      high: 0.4,
    }));
    for (const width of [820, 328]) {
      const drawn = rankingPicture(bars, width, { size: 2, cover: 0.9 }).source;
      const heights = (name: string) =>
        numbersIn(drawn, new RegExp(`y="([\\d.]+)"[^>]*class="[^"]*${name}[^"]*"`, "g"));
      const [words] = heights("note");
      const others = [...heights("part"), ...heights("value")];
      expect(others.length).toBeGreaterThanOrEqual(6);
      for (const y of others) expect(Math.abs(y - words!)).toBeGreaterThanOrEqual(12);
    }
  });

  it("cut a bar of a hundred by chance", () => {
    const drawn = sharesPicture(
      [
        { name: "belt", chance: 0.75, look: "share-1" },
        { name: "others", chance: 0.25, look: "share-rest" },
      ],
      400,
    ).source.replace(/\s+/g, " ");
    expect(numbersIn(drawn, /width="([\d.]+)" height="34"/g)).toEqual([299, 99]);
    expect(drawn).toContain("75 belt");
  });

  it("count to a hundred, whatever is rounded", () => {
    const looks = ["share-1", "share-2", "share-3", "share-rest"] as const;
    const chances = [0.556, 0.138, 0.136, 0.17];
    const cells = looks.map((look, i) => ({ name: look, chance: chances[i]!, look }));
    const numbers = numbersIn(sharesKey(cells).source, /, (\d+) in 100/g);
    expect(numbers.reduce((sum, n) => sum + n, 0)).toBe(100);
  });

  it("frame right answers of a confusion, and keep them apart from wrong ones on a phone", () => {
    const labels = ["a", "b", "c", "d", "e", "f", "g", "h"];
    const counts = labels.map((_, r) =>
      labels.map((__, c) => (r === c ? 5 : (r + 1) % 8 === c ? 2 : 0)),
    );
    const confusion = { rows: labels, columns: labels, counts };
    const wide = confusionPicture(confusion, 820).source;
    expect(wide.match(/class="cell right"/g)).toHaveLength(8);
    const narrow = confusionPicture(confusion, 328).source;
    expect(narrow).toContain(">right<");
    const total = numbersIn(narrow, /class="value[^"]*"[^>]*>(\d+)</g).reduce(
      (sum, n) => sum + n,
      0,
    );
    expect(total).toBe(8 * 7);
  });

  it("put a perfectly calibrated group on the dashed line", () => {
    const drawn = reliabilityPicture(
      [{ claimed: 0.6, right: 0.6, n: 20, low: 0.4, high: 0.78 }],
      820,
    ).source.replace(/\s+/g, " ");
    const [, x1, y1, x2, y2] =
      /x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)" class="ideal"/
        .exec(drawn)!
        .map(Number);
    const [, cx, cy] = /cx="([\d.]+)" cy="([\d.]+)"/.exec(drawn)!.map(Number);
    const share = (cx! - x1!) / (x2! - x1!);
    expect(cy).toBeCloseTo(y1! + share * (y2! - y1!), 0);
  });
});
