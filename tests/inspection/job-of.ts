import type { Job } from "../../src/inspection/job/job.js";
import type { Component, MachineId, Verdict } from "../../src/machine/words.js";

/** A job of a machine of which a recording gave these chances. */
export const jobOf = (
  machine: MachineId,
  chances: Partial<Record<Component, number>>,
  verdict: Verdict = "shortlist",
): Job => ({
  schema: "washer-noise/job@1",
  machine: { id: machine },
  recordings: [],
  diagnosis: {
    at: "2026-03-01T09:30:00Z",
    verdict: { label: verdict, text: "As heard." },
    character: "grinding",
    components: Object.entries(chances).map(([component, probability]) => ({
      component: component as Component,
      probability,
    })),
  },
  findings: [],
  readings: [],
});
