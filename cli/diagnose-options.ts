import { z } from "zod";
import {
  htmlOptionsSchema,
  limitOptionsSchema,
  machineOptionsSchema,
  parseOptions,
} from "./checked-options.js";

const optionsSchema = machineOptionsSchema.extend({
  ...htmlOptionsSchema.shape,
  ...limitOptionsSchema.shape,
  job: z.string().min(1).optional(),
  verbose: z.boolean().default(false),
});

export const checkDiagnoseOptions = (raw: unknown) => parseOptions(optionsSchema, raw);
