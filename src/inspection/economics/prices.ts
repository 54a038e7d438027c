import { z } from "zod";
import { COMPONENTS, type Component } from "../../machine/words.js";

const amount = (high: number) => {
  const error = `must be a number from 0 to ${high}`;
  return z.number({ error }).min(0, { error }).max(high, { error });
};

const FACT_WORDS = [
  "welded-tub",
  "opening-tub",
  "corroded-spider",
  "sound-spider",
  "parts-unobtainable",
  "worn-bearing-too",
  "stripped-splines",
] as const;

/** What was seen on the machine that can end the thought of a repair, or take that worry away. */
export type KnownFact = (typeof FACT_WORDS)[number];

/** The user's own prices, all in one currency, before or after tax as long as it is the same in all. */
export const pricesSchema = z.strictObject(
  {
    /** Shown behind amounts, such as "EUR". */
    currency: z.string().max(8).optional(),
    /** What the part or kit for a component costs. */
    parts: z.partialRecord(z.enum(COMPONENTS), amount(100_000)).optional(),
    labourPerHour: amount(10_000).optional(),
    /** Fixed charge for coming. */
    callOut: amount(10_000).optional(),
    /** Like-for-like new machine, delivered, fitted, the old one taken away. */
    newMachine: amount(100_000).optional(),
    /** What it costs to come a second time for want of a part. */
    secondTrip: amount(10_000).optional(),
    /** Share of its price that an unused part costs, in percent. */
    returnPercent: amount(100).optional(),
    /** Built in or stacked: labour takes longer. */
    hardAccess: z.boolean({ error: "must be true or false" }).optional(),
    known: z
      .array(z.enum(FACT_WORDS, { error: `must be among ${FACT_WORDS.join(", ")}` }))
      .optional(),
  },
  { error: "must be an object of prices" },
);

export type Prices = z.infer<typeof pricesSchema>;

/** Price told for a component's part, or null. */
export const priceOf = (prices: Prices, component: Component): number | null =>
  prices.parts?.[component] ?? null;
