// A belt drive gears the motor down: it turns several times a turn of the drum (common practice, no source).
import { describe, expect, it } from "vitest";
import { speedQuestion } from "../../cli/speed-question.js";
import { washerById } from "../../src/machine/washers.js";

describe("speedQuestion(told, washer)", () => {
  const belt = washerById("front-load-belt-universal");
  const direct = washerById("front-load-direct");

  it("questions a motor that turns slower than the drum it drives through a belt", () => {
    const said = speedQuestion({ drumRpm: 1200, motorRpm: 600 }, belt);
    expect(said).toContain("--motor-rpm 600");
    expect(said).toContain("--drum-rpm 1200");
    expect(speedQuestion({ drumRpm: 12_000, motorRpm: 1000 }, belt)).toContain("swapped");
  });

  it("lets pass what the machine can do, and what was not told", () => {
    expect(speedQuestion({ drumRpm: 1000, motorRpm: 12_000 }, belt)).toBeNull();
    expect(speedQuestion({ drumRpm: 1000, motorRpm: 1000 }, direct)).toBeNull();
    expect(speedQuestion({ drumRpm: 1000 }, belt)).toBeNull();
  });

  it("questions a direct drive whose motor and drum differ", () => {
    expect(speedQuestion({ drumRpm: 1000, motorRpm: 3000 }, direct)).not.toBeNull();
  });
});
