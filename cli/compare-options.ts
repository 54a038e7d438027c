import { z } from "zod";
import {
  htmlOptionsSchema,
  limitOptionsSchema,
  machineOptionsSchema,
  parseOptions,
} from "./checked-options.js";

const optionsSchema = machineOptionsSchema.extend({
  ...limitOptionsSchema.shape,
  ...htmlOptionsSchema.shape,
  job: z.string().min(1).optional(),
  part: z.string().min(1).optional(),
});

export const checkCompareOptions = (raw: unknown) => parseOptions(optionsSchema, raw);
