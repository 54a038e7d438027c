import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import {
  diagnoseRecordings,
  type DiagnosedRecordings,
} from "../../../src/answer/diagnose-recordings.js";
import { encodeClips, type EncodedClip } from "../../../src/answer/encode-clips.js";
import type { Verdict } from "../../../src/machine/words.js";
import { assessRecording } from "../../../src/recording/assess.js";
import { readSoundFile } from "../../../src/recording/files/read-sound-file.js";
import { washerById } from "../../../src/machine/washers.js";
import { STOP_USE } from "../../../src/inspection/data/cautions.data.js";
import { COMPONENTS } from "../../../src/machine/words.js";
import { diagnosisPage } from "../../../src/report/html/diagnosis-page.js";
import { OWNER_WORDS } from "../../../src/report/html/owner-words.data.js";
import { root } from "../../project-root.js";

const clip = join(root, "samples-synthetic/mon-2-school-kitchen.m4a");
let made: DiagnosedRecordings;
let clips: readonly (readonly EncodedClip[])[];

beforeAll(async () => {
  const sound = await readSoundFile(clip);
  made = diagnoseRecordings(
    [
      {
        file: "drain.m4a",
        sha256: sound.sha256,
        recording: assessRecording(sound),
        phase: "drain",
      },
    ],
    { washer: washerById("top-load-belt"), machineGiven: true, pictures: "with-clips" },
  );
  clips = await encodeClips(made.pictures!);
}, 60_000);

const text = (page: string): string =>
  page
    .replace(/<style>[\s\S]*?<\/style>/g, "")
    .replace(/<[^>]+>/g, " ")
    .replace(/\s+/g, " ");

const withVerdict = (label: Verdict): string =>
  diagnosisPage({
    answer: { ...made.answer, verdict: { label, text: "Why it is so." } },
    figures: made.figures,
    pictures: made.pictures!,
    clips,
  });

describe("the page of a diagnosis", () => {
  it("serves the owner, the technician and the engineer, in this order", () => {
    const page = text(withVerdict("likely"));
    const places = [
      "Most likely the",
      "What it means",
      "What happens next",
      "Open first",
      "What decides by hand",
      "Take care",
      "SHA-256",
      "Beats per second",
    ].map((word) => page.indexOf(word));
    expect(places.every((place) => place > 0)).toBe(true);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
  });

  it("tells the chances that the answer has", () => {
    const page = text(withVerdict("likely"));
    for (const { probability } of made.answer.components.slice(0, 3)) {
      expect(page).toContain(`${Math.round(100 * probability)} %`);
    }
  });

  it("names no part and sends nobody out when there is no answer, but says how to record", () => {
    for (const verdict of ["record-again", "not-a-washer"] as const) {
      const page = text(withVerdict(verdict));
      expect(page).toContain("Why it is so.");
      expect(page).toContain("folded towel");
      expect(page).not.toMatch(/Most likely|Open first|What decides by hand|What it means|in 100/);
    }
  });

  it("says what must stop on top, also where it asks for another recording", () => {
    const stop = STOP_USE[0]!.text;
    const verdict = { label: "record-again" as const, text: "Why it is so." };
    const answer = { ...made.answer, verdict, cautions: [stop, ...made.answer.cautions] };
    const page = text(diagnosisPage({ answer }));
    expect(page.indexOf(stop)).toBeGreaterThan(0);
    expect(page.indexOf(stop)).toBeLessThan(page.indexOf("folded towel"));
  });

  it("says why orders are missing when the drum's speed is not known, and draws beats per second", () => {
    expect(made.answer.speed.drumRpm).toBeNull();
    const page = text(withVerdict("likely"));
    expect(page).toMatch(/Beats per drum turn are not drawn .* could not be heard/);
    expect(page).toContain("beats per second, Hz");
  });

  it("gives every picture a text alternative and its numbers", () => {
    const page = withVerdict("likely");
    const figures = page.match(/<figure[\s\S]*?<\/figure>/g)!;
    expect(figures.length).toBeGreaterThanOrEqual(4);
    for (const figure of figures) {
      expect(figure).toMatch(/<figcaption>\s*\S/);
      expect(figure.match(/<tbody>[\s\S]*?<th scope="row">/)).not.toBeNull();
      for (const svg of figure.match(/<svg\s[^>]*class="picture"[^>]*>/g)!)
        expect(svg).toMatch(/aria-label="[^"]{20,}"/);
    }
  });

  it("stays under three million characters with fifteen recordings, and says what was left out", () => {
    const times = <T>(one: T): T[] => Array.from({ length: 15 }, () => one);
    const { answer, figures, pictures } = made;
    const page = diagnosisPage({
      answer: { ...answer, recordings: times(answer.recordings[0]!) },
      figures: times(figures[0]!),
      pictures: { ...pictures!, mainClip: 7, recordings: times(pictures!.recordings[0]!) },
      clips: times(clips[0]!),
    });
    expect(page.length).toBeLessThan(3_000_000);
    expect(page).toContain("left out to keep the file small");
    // The recording in which the noise is heard best is complete.
    expect(page).toContain('id="spectrogram-8"');
    expect(page).toContain('id="beats-8"');
  });
});

describe("the words for owners", () => {
  it("explain every part that can be named", () => {
    const explained = OWNER_WORDS.map(({ component }) => component);
    const nameable = COMPONENTS.filter(
      (component) => component !== "normal" && component !== "other",
    );
    expect([...explained].sort()).toEqual([...nameable].sort());
    for (const { plainly, meaning, source } of OWNER_WORDS) {
      expect(plainly.length).toBeGreaterThan(10);
      expect(meaning).toMatch(/^[A-Z].*\.$/);
      expect(source).not.toBe("");
    }
  });
});
