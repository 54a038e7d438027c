import { describe, expect, it } from "vitest";
import { html } from "../../src/report/html/markup.js";
import { page } from "../../src/report/html/page.js";
import { seemingContradictions } from "../../src/report/seeming-contradictions.js";
import { SOUND_RULES } from "../../src/diagnosis/data/sound-rules.data.js";

const rules = (...ids: string[]): { rule: string }[] => ids.map((rule) => ({ rule }));

describe("reasons that sound at odds", () => {
  it("are told once to go together", () => {
    const [said, ...more] = seemingContradictions(
      rules("sound-is-low", "crackle-above-6k", "rattling-impulses"),
    );
    expect(said).toMatch(/Most of the sound is low.*Both are heard/);
    expect(more).toEqual([]);
  });

  it("need no word where only one side is told", () => {
    expect(seemingContradictions(rules("sound-is-low", "turn-impact"))).toEqual([]);
    expect(seemingContradictions(rules("crackle-above-6k"))).toEqual([]);
  });

  it("are named as the rules are", () => {
    const named = ["sound-is-low", "crackle-above-6k", "hiss-above-4k", "ringing-pings"];
    const more = ["squeal-stands-out", "rough-noise", "rattling-impulses", "noise-chops"];
    const known = SOUND_RULES.map(({ id }) => id);
    for (const id of [...named, ...more]) expect(known).toContain(id);
  });
});

describe("a page", () => {
  it("ends no line between a figure and its unit, and leaves names from outside as they are", () => {
    const text = page({
      title: "t",
      masthead: html`<h1>x</h1>
        <p>${"52 % after 12 min"} <bdi class="name">take 12 min.m4a</bdi></p>`,
      sections: [],
    });
    expect(text).toContain("52\u00a0% after 12\u00a0min");
    expect(text).toContain("take 12 min.m4a");
  });
});
