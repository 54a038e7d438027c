import { describe, expect, it } from "vitest";
import { csvLine } from "../../src/batch/intake/csv-text.js";
import { parseIntake } from "../../src/batch/intake/intake-sheet.js";
import { matchIntake } from "../../src/batch/intake/match-intake.js";
import { settingsWith, toldFacts } from "../../src/batch/intake/told-facts.js";
import { complaintFacts, complaintFactors } from "../../src/diagnosis/complaint.js";
import { priorOf } from "../../src/diagnosis/prior.js";
import { washerById } from "../../src/machine/washers.js";
import { urgencyOf } from "../../src/inspection/urgency/urgency.js";
import { actionFor } from "../../src/inspection/urgency/urgency-action.js";

const sheet = (text: string) => parseIntake(new TextEncoder().encode(text), "sheet.csv");

describe("parseIntake(bytes, name)", () => {
  it("reads quotes, doubled quotes and line breaks in cells as RFC 4180 section 2 writes them", () => {
    const { rows } = sheet('file,complaint\r\na.wav,"says ""roar"",\r\nthen stops"\r\n');
    expect(rows[0]!.facts.complaint).toBe('says "roar",\r\nthen stops');
  });

  it("reads semicolons, decimal commas, headings in other words, and Windows letters", () => {
    const bytes = Uint8Array.from(
      Buffer.from("Recording;Age Years;Ort\na.wav;7,5;M\xfcnchen\n", "latin1"),
    );
    const { rows, otherColumns } = parseIntake(bytes, "s.csv");
    expect(rows[0]!.facts).toMatchObject({ file: "a.wav", age_years: 7.5 });
    expect(otherColumns).toEqual(["Ort"]);
    expect(rows[0]!.other).toEqual({ Ort: "München" });
  });

  it("names a wrong cell by row and column and takes it as not told", () => {
    const { rows, complaints } = sheet("file,age_years,phase\na.wav,old,spin\nb.wav,4,boil\n");
    expect(complaints).toHaveLength(2);
    expect(complaints[0]).toMatch(/row 2, column age_years: .*received "old"/);
    expect(complaints[1]).toMatch(/row 3, column phase: .*received "boil"/);
    expect(rows[0]!.facts).not.toHaveProperty("age_years");
    expect(rows[1]!.facts.age_years).toBe(4);
  });

  it("refuses a sheet without a column for the file", () => {
    expect(() => sheet("name,age\na,3\n")).toThrow(
      expect.objectContaining({ code: "intake-invalid" }),
    );
  });
});

describe("matchIntake(files, sheet)", () => {
  it("gives nobody another customer's row: a bare name that two recordings have is left out", () => {
    const files = ["x/a.wav", "y/a.wav", "b.wav"].map((path) => ({ path, name: path }));
    const { rowOf, complaints } = matchIntake(files, sheet("file\na.wav\nb.wav\nc.wav\n"));
    expect([...rowOf.keys()]).toEqual(["b.wav"]);
    expect(complaints).toHaveLength(2);
    expect(matchIntake(files, sheet("file\nx/a.wav\n")).rowOf.has("x/a.wav")).toBe(true);
  });
});

describe("csvLine(cells)", () => {
  it("makes text of what a spreadsheet would run, and leaves numbers (OWASP, CSV Injection)", () => {
    expect(csvLine(["=1+1", "+1", "-1", "@x", -1, null, "a,b"])).toBe(
      `'=1+1,'+1,'-1,'@x,-1,,"a,b"\r\n`,
    );
  });

  // OWASP, CSV Injection: also behind tabs and blanks, in wide signs, and where a program that splits at
  // semicolons or line ends would begin a cell.
  it.each([
    ["\t=1", `"'\t'=1"`],
    [" =1", "' =1"],
    ["\uff1d1", "'\uff1d1"],
    ["a;=1;b", `"a;'=1;b"`],
    ["a\r\n@x", `"a\r\n'@x"`],
    ["about -5 dB, I think", `"about -5 dB, I think"`],
  ])("defuses %j", (text, safe) => {
    expect(csvLine([text])).toBe(`${safe}\r\n`);
  });
});

describe("what is told moves the chances", () => {
  const washer = washerById("front-load-belt-universal");
  const odds = (
    facts: Parameters<typeof complaintFactors>[0],
    part: "shipping-bolts" | "drum-bearing",
  ) => {
    const prior = priorOf(washer, { ageYears: 1, factors: complaintFactors(facts) });
    return prior.get(part)! / prior.get("motor-bearing")!;
  };

  it("a moved machine makes shipping bolts 20 times, a leak the drum bearing 4 times likelier (expert estimate)", () => {
    expect(odds(["moved-or-new"], "shipping-bolts") / odds([], "shipping-bolts")).toBeCloseTo(
      20,
      9,
    );
    expect(odds(["leak"], "drum-bearing") / odds([], "drum-bearing")).toBeCloseTo(4, 9);
  });

  it.each([
    ["We moved house last week and now it bangs", ["moved-or-new"]],
    ["The machine moves across the floor", ["walks"]],
    ["No leak, doesn't smoke, but there is rusty water under it", ["leak", "rust"]],
    ["Do I need a new machine?", []],
    ["water leaks at the door", []],
    ["It smells burnt and there were sparks", ["burning", "sparks"]],
    ["getting louder over the last months", ["gradual"]],
  ])("%s", (text, facts) => {
    expect(complaintFacts(text).sort()).toEqual(facts);
  });

  it("a column outranks the words, and hard use ages the machine", () => {
    expect(toldFacts({ complaint: "we moved it", moved: false })).toEqual([]);
    const all = {
      machine: null,
      phase: "spin",
      drumRpm: null,
      motorRpm: null,
      lineHz: null,
      ageYears: 5,
      told: [],
    } as const;
    // 12 loads a week, against 4 of a common household: three times as old.
    expect(settingsWith({ loads_per_week: 12 }, all).ageYears).toBe(15);
    expect(settingsWith({ loads_per_week: 7, age_years: 2 }, all).ageYears).toBe(2);
  });
});

describe("urgency and what to do", () => {
  const bearing = [
    { component: "drum-bearing", probability: 0.6 },
    { component: "motor-bearing", probability: 0.2 },
  ] as const;

  it("stops a machine for what a customer tells, even when the recording says nothing", () => {
    expect(urgencyOf({ components: [], verdict: null, told: ["sparks"] }).label).toBe("stop-use");
    expect(urgencyOf({ components: bearing, verdict: "not-a-washer", told: ["walks"] }).label).toBe(
      "stop-use",
    );
  });

  it("stops for rusty water below only together with a likely drum bearing", () => {
    const told = ["leak", "rust"] as const;
    expect(urgencyOf({ components: bearing, verdict: "likely", told }).label).toBe("stop-use");
    expect(urgencyOf({ components: [], verdict: "likely", told }).label).toBe("routine");
    expect(urgencyOf({ components: bearing, verdict: "likely", told: [] }).label).toBe("soon");
  });

  it("asks nobody for a spin when a broken drum spider is likely", () => {
    const components = [
      { component: "drum-spider", probability: 0.4 },
      { component: "unbalanced-load", probability: 0.35 },
    ] as const;
    const verdict = { label: "shortlist", text: "" } as const;
    const urgency = urgencyOf({ components, verdict: "shortlist", told: [] });
    const action = actionFor({
      components,
      verdict,
      nextChecks: [],
      washer: washerById("front-load"),
      urgency,
    });
    expect(urgency.label).toBe("stop-use");
    expect(action.label).toBe("technician");
    expect(action.text).toContain("stop using");
  });

  it("sends no part for a load that lies unevenly", () => {
    const components = [
      { component: "unbalanced-load", probability: 0.8 },
      { component: "suspension", probability: 0.1 },
    ] as const;
    const verdict = { label: "likely", text: "" } as const;
    const urgency = urgencyOf({ components, verdict: "likely", told: [] });
    const washer = washerById("front-load");
    const action = actionFor({ components, verdict, nextChecks: [], washer, urgency });
    expect(action.label).toBe("customer-check");
    expect(action.parts).toEqual([]);
  });
});
