import { comparisonText } from "../../../src/report/compare-text.js";
import { describe, expect, it } from "vitest";
import type { ComparisonAnswer } from "../../../src/answer/compare-recordings.js";
import type { ComparisonPictures } from "../../../src/answer/compare-picture-data.js";
import type { ComparisonVerdict } from "../../../src/comparison/comparison.js";
import type { Curve, OrderData, SpectrogramData } from "../../../src/answer/picture-data.js";
import { comparisonPage } from "../../../src/report/html/comparison-page.js";

const curve = (peak: number): Curve => ({
  first: 0,
  step: 0.5,
  overDb: Float64Array.from({ length: 13 }, (_, i) => (i === 6 ? peak : 1)),
});

const orders = (peak: number, heard: boolean): OrderData => ({
  curve: curve(peak),
  drumHz: 15,
  marks: [
    {
      family: "bearing",
      label: "drum bearing, outer race",
      place: 3,
      low: 2.9,
      high: 3.1,
      hz: 45,
      heard,
      hint: false,
      confounded: false,
      pAdjusted: heard ? 0.001 : 0.6,
    },
  ],
});

const spectrogram: SpectrogramData = {
  columns: 4,
  rows: 2,
  steps: Uint8Array.from([1, 5, 9, 13, 20, 30, 40, 47]),
  quietDb: -40,
  loudDb: 20,
  lowHz: 10,
  highHz: 8000,
  seconds: 9,
  drum: null,
  lines: [
    {
      family: "motor",
      label: "commutator",
      heard: false,
      points: [
        { seconds: 0, hz: 500 },
        { seconds: 9, hz: 500 },
      ],
    },
  ],
  octaves: [{ centreHz: 500, levelsDb: [1, 2] }],
};

const pictures: ComparisonPictures = {
  spectrograms: { before: spectrogram, after: spectrogram },
  bands: [
    { midHz: 500, beforeDb: 1, afterDb: 0 },
    { midHz: 2000, beforeDb: 14, afterDb: 2 },
    { midHz: 4000, beforeDb: 3, afterDb: 1 },
  ],
  noiseBandHz: [1000, 6000],
  orders: { before: orders(17, true), after: orders(2, false) },
  speedTaken: "after",
  modulation: null,
  lines: [
    {
      family: "bearing",
      label: "drum bearing, outer race",
      place: 3,
      before: { overDb: 17, pAdjusted: 0.001, heard: true },
      after: { overDb: 2, pAdjusted: 0.6, heard: false },
    },
  ],
  clips: { before: [], after: [], notes: ["After: Somebody speaks in this recording."] },
};

const answer = (verdict: ComparisonVerdict): ComparisonAnswer => ({
  schema: "washer-noise/comparison@1",
  verdict,
  text: "Why it is so.",
  component: "drum-bearing",
  componentFrom: "told",
  reach: { nats: 3.4, enough: true, text: "A full cure would show." },
  gone: verdict === "cannot tell" ? null : { value: 3.1, low: 1.2, high: 4.9 },
  features: [
    {
      feature: "event-low.4",
      meaning: "how high blows stand out",
      unit: "dB",
      before: 9,
      after: 2,
      change: { value: -7, low: -8.5, high: -5.25 },
      nats: 1.4,
    },
  ],
  recordings: ["before.m4a", "after.m4a"].map((file) => ({
    file,
    sha256: (file === "before.m4a" ? "0" : "1").repeat(64),
    drumRpm: file === "before.m4a" ? 900 : null,
    phase: "spin",
  })),
});

const text = (page: string): string =>
  page
    .replace(/<style>[\s\S]*?<\/style>/g, "")
    .replace(/<[^>]+>/g, " ")
    .replaceAll("&lt;", "<")
    .replace(/\s+/g, " ");

describe("the page of a comparison", () => {
  it("says the verdict first, in plain words, then why and what happens next", () => {
    const heads: Record<ComparisonVerdict, string> = {
      cured: "The noise is gone",
      better: "Better, but not gone",
      unchanged: "The noise is still there",
      worse: "More noise than before",
      "cannot tell": "These two recordings do not tell",
    };
    for (const [verdict, head] of Object.entries(heads)) {
      const page = comparisonPage({ answer: answer(verdict as ComparisonVerdict), pictures });
      expect(/<h1>([^<]*)<\/h1>/.exec(page)![1]).toBe(head);
      const places = [head, "Why it is so.", "What happens next", "Spectra of both"].map((words) =>
        text(page).indexOf(words),
      );
      expect([...places].sort((a, b) => a - b)).toEqual(places);
      expect(places[0]).toBeGreaterThanOrEqual(0);
    }
  });

  it("says in plain words whether the first recording can show a cure, with the odds it would reach", () => {
    // exp(3.4) = 30: nats are natural logarithms of odds.
    const page = text(comparisonPage({ answer: answer("cured"), pictures }));
    expect(page).toMatch(/Can the first recording show a cure\? A full cure would show\..*30 to 1/);
    const reach = { nats: null, enough: false, text: "It is too short." };
    const unfit = text(comparisonPage({ answer: { ...answer("cannot tell"), reach }, pictures }));
    expect(unfit).toMatch(/show a cure\? It is too short\./);
    expect(unfit).not.toContain("to 1");
  });

  it("draws no conclusion on the repair from one recording given twice", () => {
    const made = answer("unchanged");
    const twice = { ...made, recordings: [made.recordings[0]!, made.recordings[0]!] };
    const page = text(comparisonPage({ answer: twice, pictures }));
    expect(page).toContain("Both files hold the same recording");
    expect(page).not.toContain("not mended yet");
    expect(comparisonText(twice)).toMatch(/both files hold the same recording/);
    expect(comparisonText(made)).not.toMatch(/same recording/);
  });

  it("says how to record two that can be compared when it cannot tell, and only then", () => {
    expect(text(comparisonPage({ answer: answer("cannot tell"), pictures }))).toContain(
      "The same phone with the same app in the same place",
    );
    expect(text(comparisonPage({ answer: answer("cured"), pictures }))).not.toContain("same app");
  });

  it("tells the odds that the noise is gone, and each line and observation before and after", () => {
    const page = text(comparisonPage({ answer: answer("cured"), pictures }));
    expect(page).toMatch(/Gone \+3\.1 \+1\.2 to \+4\.9/);
    expect(page).toMatch(/9\.00 2\.00 \u22127\.00 \(\u22128\.50 to \u22125\.25\) dB \+1\.4/);
    expect(page).toMatch(/outer race, 3\.00 beats a turn: 17 dB before, 2 dB after/);
    expect(page).toContain("not heard after the repair: it is drawn at the other");
  });

  it("draws both on one scale: one pair of limits, and no tone that was not heard", () => {
    const page = comparisonPage({ answer: answer("cured"), pictures });
    const wide = /<figure id="spectrograms"[\s\S]*?<div class="narrow">/.exec(page)![0];
    expect(wide.match(/20 dB\/octave/g)).toHaveLength(2);
    expect(page).not.toContain("commutator");
  });

  it("gives every picture its numbers in words and in a table, and a unit on every axis", () => {
    const figures = comparisonPage({ answer: answer("cured"), pictures }).match(
      /<figure[\s\S]*?<\/figure>/g,
    )!;
    expect(figures).toHaveLength(4);
    for (const figure of figures) {
      expect(figure).toMatch(/<tbody>[\s\S]*?<th scope="row">/);
      for (const drawing of figure.match(/<svg\s[^>]*class="picture"[\s\S]*?<\/svg>/g)!) {
        expect(drawing).toMatch(/aria-label="[^"]*\d[^"]*"/);
        expect(drawing).toMatch(/class="unit"[^>]*>[^<]*(dB|Hz|nats|seconds|turn)/);
      }
    }
  });

  it("has players only when clips are given, and says why one is missing", () => {
    const silent = comparisonPage({ answer: answer("cured"), pictures });
    expect(silent).not.toMatch(/<audio|id="listen"/);
    const heard = comparisonPage({
      answer: answer("cured"),
      pictures,
      clips: {
        before: [
          {
            id: "recording",
            title: "Before: the recording",
            note: "As recorded.",
            fromSeconds: 1,
            seconds: 8,
            mime: "audio/flac",
            bytes: Uint8Array.from([1, 2, 3]),
          },
        ],
        after: [],
      },
    });
    expect(heard.match(/<audio/g)).toHaveLength(1);
    expect(heard).toContain("After: Somebody speaks in this recording.");
  });
});
