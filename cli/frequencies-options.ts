import { z } from "zod";
import { machineOptionsSchema, numberIn, parseOptions } from "./checked-options.js";
import { PHASES } from "./choices.js";

const optionsSchema = machineOptionsSchema
  .pick({ machine: true, lineHz: true, json: true })
  .extend({
    phase: z.enum(PHASES).default("spin"),
    drumRpm: numberIn("--drum-rpm", 1, 3000, "rpm"),
    motorRpm: numberIn("--motor-rpm", 1, 40_000, "rpm"),
  });

export const checkFrequenciesOptions = (raw: unknown) => parseOptions(optionsSchema, raw);
