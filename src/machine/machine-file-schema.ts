import { z } from "zod";
import { MACHINE_PROFILES } from "./words.js";

/** A number from `low` to `high`; every failing says the same requirement. */
const numberIn = (low: number, high: number, unit: string) => {
  const error = `must be a number from ${low} to ${high}${unit && ` ${unit}`}`;
  return z.number({ error }).min(low, { error }).max(high, { error });
};

const wholeIn = (low: number, high: number, what: string) => {
  const error = `must be a whole number of ${what} from ${low} to ${high}`;
  return z.number({ error }).int({ error }).min(low, { error }).max(high, { error });
};

/** One number, or a range when it is not known exactly. */
const spanIn = (low: number, high: number, unit: string) => {
  const value = numberIn(low, high, unit);
  const range = `{ "low", "typical", "high" } in rising order`;
  const error = `must be a number from ${low} to ${high}${unit && ` ${unit}`}, or ${range}`;
  return z.union(
    [
      value,
      z
        .strictObject({ low: value, typical: value, high: value })
        .refine((span) => span.low <= span.typical && span.typical <= span.high, { error }),
    ],
    { error },
  );
};

const BEARING_FORMS =
  'a designation such as "6206", or { "balls", "ballMm", "pitchMm" }, or { "outer", "inner" } ' +
  "as multiples of the shaft from the maker's table";

const bearing = z.union(
  [
    z.string().min(1),
    z.strictObject({
      balls: wholeIn(5, 30, "balls"),
      ballMm: numberIn(1, 50, "mm"),
      pitchMm: numberIn(5, 300, "mm"),
      contactDeg: numberIn(0, 40, "degrees").optional(),
    }),
    z.strictObject({
      outer: numberIn(1, 20, ""),
      inner: numberIn(1, 20, ""),
      cage: numberIn(0.3, 0.5, "").optional(),
    }),
  ],
  { error: `must be ${BEARING_FORMS}` },
);

const bearings = z
  .array(bearing, { error: `must be a list of bearings, each ${BEARING_FORMS}` })
  .min(1, { error: `must name at least one bearing: ${BEARING_FORMS}` });

const group = <Shape extends z.ZodRawShape>(shape: Shape) =>
  z.strictObject(shape, { error: `must be an object with ${Object.keys(shape).join(", ")}` });

export const beltSchema = group({
  motorPulleyMm: numberIn(5, 400, "mm").optional(),
  drumPulleyMm: numberIn(50, 600, "mm").optional(),
  lengthMm: numberIn(300, 3000, "mm").optional(),
  spanMm: numberIn(50, 1000, "mm").optional(),
  tensionNewton: spanIn(5, 1000, "N").optional(),
  section: z.enum(["H", "J", "K", "L", "M"], { error: "must be H, J, K, L or M" }).optional(),
  ribs: wholeIn(1, 20, "ribs").optional(),
});

export const gearsSchema = group({
  sun: wholeIn(6, 200, "teeth"),
  planet: wholeIn(6, 200, "teeth"),
  ring: wholeIn(12, 500, "teeth"),
  planets: wholeIn(2, 8, "planets"),
});

export const motorSchema = group({
  poles: wholeIn(2, 96, "magnetic poles").optional(),
  slots: wholeIn(3, 96, "slots").optional(),
  bars: wholeIn(5, 120, "bars").optional(),
});

/** A user's machine file: a built-in profile it is like, and what is known better about this one. */
export const machineFileSchema = z.strictObject(
  {
    schema: z
      .literal("washer-noise/machine@1", { error: 'must be "washer-noise/machine@1"' })
      .optional(),
    name: z.string({ error: "must be a text" }).min(1, { error: "must not be empty" }).optional(),
    like: z.enum(MACHINE_PROFILES, { error: `must be one of ${MACHINE_PROFILES.join(", ")}` }),
    spinRpm: spanIn(100, 2500, "rpm").optional(),
    tumbleRpm: spanIn(10, 120, "rpm").optional(),
    strokesPerMinute: spanIn(5, 400, "strokes per minute").optional(),
    lineHz: z.union([z.literal(50), z.literal(60)], { error: "must be 50 or 60" }).optional(),
    motorToDrum: spanIn(0.5, 40, "motor turns per drum turn").optional(),
    belt: beltSchema.optional(),
    gears: gearsSchema.optional(),
    pinionTeeth: wholeIn(5, 100, "teeth").optional(),
    motor: motorSchema.optional(),
    drumBearings: bearings.optional(),
    motorBearings: bearings.optional(),
    pumpVanes: wholeIn(2, 16, "vanes").optional(),
    lifters: wholeIn(0, 8, "lifters").optional(),
    carrierHz: spanIn(1000, 100_000, "Hz").optional(),
  },
  { error: 'must be an object such as { "like": "front-load-belt-universal" }' },
);

export type MachineFile = z.infer<typeof machineFileSchema>;
export type BearingEntry = NonNullable<MachineFile["drumBearings"]>[number];
export type SpanEntry = NonNullable<MachineFile["spinRpm"]>;
