import fc from "fast-check";
import { expect, test } from "vitest";
import { nthSmallest } from "../../src/foundation/nth-smallest.js";
import { quantiles } from "../../src/foundation/statistics.js";

const values = fc.array(fc.oneof(fc.double(), fc.integer({ min: -3, max: 3 })), {
  minLength: 1,
  maxLength: 60,
});

test("the n-th smallest value is the one that sorting puts at place n, repeated values and NaN among them", () => {
  fc.assert(
    fc.property(values, fc.nat(), (list, any) => {
      const n = any % list.length;
      const found = nthSmallest(Float64Array.from(list), n);
      expect(found + 0).toBe(Float64Array.from(list).sort()[n]! + 0);
    }),
  );
});

test("quantiles of a few values are those of Hyndman and Fan's type 7, in any order and with the input left as it was", () => {
  const list = Float64Array.of(9, 1, 4, 16);
  // Places 1.5, 0 and 3 of the sorted values; R's quantile(c(9,1,4,16), type = 7) by hand.
  expect(quantiles(list, [0.5, 0, 1])).toEqual([6.5, 1, 16]);
  expect([...list]).toEqual([9, 1, 4, 16]);
});
