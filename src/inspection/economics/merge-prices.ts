import { WasherNoiseError } from "../../foundation/errors.js";
import { didYouMean } from "../../foundation/similar-word.js";
import { COMPONENTS } from "../../machine/words.js";
import { pricesSchema, type Prices } from "./prices.js";

/** What a field of the prices is called on the command line, where its own name would puzzle. */
const OPTION_OF: Readonly<Record<string, string>> = { known: "--known", parts: "--price" };

/**
 * Prices of a job with those told now; what is told now wins, part by part.
 *
 * @throws WasherNoiseError `usage` for an unknown part or fact, or an amount out of range.
 */
export function mergePrices(kept: Prices | undefined, told: Record<string, unknown>): Prices {
  const priced = COMPONENTS.filter((part) => part !== "normal" && part !== "other");
  const unknown = Object.keys((told["parts"] as object | undefined) ?? {}).find(
    (part) => !(priced as readonly string[]).includes(part),
  );
  if (unknown !== undefined) {
    throw new WasherNoiseError(
      "usage",
      `--price must name one of ${priced.join(", ")}, received "${unknown}".${didYouMean(unknown, priced)}`,
      { received: unknown, allowed: priced },
    );
  }
  const result = pricesSchema.safeParse(told);
  if (!result.success) {
    const { path, message } = result.error.issues[0]!;
    throw new WasherNoiseError(
      "usage",
      `${OPTION_OF[String(path[0])] ?? `prices: ${path.join(".")}`} ${message}.`,
      { path },
    );
  }
  const now = result.data;
  const known = [...new Set([...(kept?.known ?? []), ...(now.known ?? [])])];
  return {
    ...kept,
    ...now,
    ...(kept?.parts || now.parts ? { parts: { ...kept?.parts, ...now.parts } } : {}),
    ...(known.length > 0 ? { known } : {}),
  };
}
