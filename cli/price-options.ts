import type { Command } from "commander";
import type { PriceOptions } from "./checked-options.js";
import { UsageError } from "./shared-options.js";

const collect = (value: string, before: string[] | undefined): string[] => [
  ...(before ?? []),
  value,
];

/** Options with the user's own prices; all are kept in the job. */
export function addPriceOptions(command: Command): Command {
  return command
    .option(
      "--price <part=amount>",
      "your price of a part, such as drive-belt=35; repeatable",
      collect,
    )
    .option("--labour-per-hour <amount>", "what an hour of your work costs")
    .option("--call-out <amount>", "fixed charge for coming")
    .option("--new-price <amount>", "like-for-like new machine, delivered and fitted")
    .option("--trip-cost <amount>", "what a second trip costs you")
    .option("--return-percent <n>", "share of its price that an unused part costs (default: 15)")
    .option("--currency <code>", "shown behind amounts")
    .option("--hard-access", "built in or stacked: labour takes longer")
    .option(
      "--known <fact>",
      "welded-tub, opening-tub, corroded-spider, sound-spider, parts-unobtainable, " +
        "worn-bearing-too, stripped-splines; repeatable",
      collect,
    );
}

function pricePair(text: string): readonly [part: string, amount: number] {
  const at = text.indexOf("=");
  const amount = Number(text.slice(at + 1));
  if (at > 0 && text.length > at + 1 && amount >= 0) return [text.slice(0, at).trim(), amount];
  throw new UsageError(`--price must be PART=AMOUNT such as drive-belt=35, received "${text}".`);
}

/** What was told of prices, in the job's words; only fields that were told. */
export function toldPrices(options: PriceOptions): Record<string, unknown> {
  const { price, labourPerHour, callOut, newPrice, tripCost, known } = options;
  const { returnPercent, currency, hardAccess } = options;
  const all = {
    currency,
    parts: price.length > 0 ? Object.fromEntries(price.map(pricePair)) : undefined,
    labourPerHour,
    callOut,
    newMachine: newPrice,
    secondTrip: tripCost,
    returnPercent,
    hardAccess,
    known: known.length > 0 ? known : undefined,
  };
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));
}
