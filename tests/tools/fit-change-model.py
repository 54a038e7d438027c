"""Fits src/comparison/change-model.data.ts from signs of simulated pairs (docs/validation.md).

    node .tools/tests/tools/compare-pairs.js signs KEPT.ndjson... SIGNS.ndjson
    python3 tests/tools/fit-change-model.py SIGNS.ndjson [src/comparison/change-model.data.ts]

Prints what weights from the other hands make of each hand's pairs, and writes the table when one is named.
Needs numpy. Logistic regression of "gone" on three signs with a ridge; gone and not gone weigh alike.
"""
import json
import sys

import numpy as np

SIGNS = ("difference", "shift", "fade")
GONE = ("repaired",)
THERE = ("not repaired", "not repaired, turned round", "3 dB weaker", "6 dB weaker", "6 dB stronger")
OTHER = ("fault came", "in order in both")
RIDGE = 3.0


def fitted(rows, signs=SIGNS):
    """Weights and bias, with a ridge in units of the signs' spreads; Newton's method."""
    x = np.array([[row[sign] for sign in signs] for row in rows])
    y = np.array([row["kind"] in GONE for row in rows], float)
    share = np.where(y > 0, 0.5 / y.sum(), 0.5 / (1 - y).sum()) * len(y)
    middle, width = x.mean(0), x.std(0) + 1e-9
    z = np.c_[(x - middle) / width, np.ones(len(x))]
    ridge = np.diag([RIDGE] * len(signs) + [0.0])
    p = np.zeros(z.shape[1])
    for _ in range(40):
        chance = 1 / (1 + np.exp(-z @ p))
        slope = z.T @ (share * (y - chance)) - ridge @ p
        p = p + np.linalg.solve((z * (share * chance * (1 - chance))[:, None]).T @ z + ridge, slope)
    weights = p[:-1] / width
    return weights, p[-1] - weights @ middle


def odds(rows, model, signs=SIGNS):
    weights, bias = model
    return np.array([[row[sign] for sign in signs] for row in rows]) @ weights + bias


def crossed(rows, signs=SIGNS):
    """Log-odds of each hand's pairs by weights that only the other hands have taught."""
    out = np.full(len(rows), np.nan)
    hands = np.array([row["hand"] for row in rows])
    for hand in sorted(set(hands)):
        others = [row for row in rows if row["hand"] != hand]
        own = [row for row in rows if row["hand"] == hand]
        out[hands == hand] = odds(own, fitted(others, signs), signs)
    return out


def report(rows, nats):
    kinds = np.array([row["kind"] for row in rows])
    print("called gone, by limit; each hand by weights from the others")
    chosen = GONE + THERE + OTHER
    for limit in (0.5, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5):
        parts = [f"{k} {np.mean(nats[kinds == k] >= limit):.3f}" for k in chosen]
        print(f"{limit:.2f} ", ", ".join(parts))
    for k in chosen:
        print(f"{k:28s} {np.sum(kinds == k):4d} ", np.quantile(nats[kinds == k], [0.02, 0.1, 0.5, 0.9, 0.98]).round(2))


def written(rows, model):
    weights, bias = model
    cured = [row for row in rows if row["kind"] in GONE]
    after = {name: np.median([row[name] for row in cured]) for name in ("difference", "shift", "lean")}
    there = [row for row in rows if row["kind"] in THERE]
    even = {name: np.mean([np.mean([r[name] for r in side]) for side in (cured, there)]) for name in SIGNS}
    count = len({row["washer"] for row in rows})
    text = lambda values: ", ".join(f"{name}: {value:.3f}" for name, value in values.items())
    return f"""import type {{ ChangeModel }} from "./change-model.js";

/** Made by tests/tools/fit-change-model.py; see docs/validation.md. */
export const CHANGE_MODEL: ChangeModel = {{
  weights: {{ {text(dict(zip(SIGNS, weights)))} }},
  bias: {bias:.3f},
  even: {{ {text(even)} }},
  cured: {{ {text(after)} }},
  source: "fitted on {count} simulated washers of three generators (docs/validation.md)",
  provenance: "computed",
}};
"""


def main():
    path, *target = sys.argv[1:]
    with open(path) as lines:
        rows = [json.loads(line) for line in lines]
    taught = [row for row in rows if row["kind"] != "the same recording"]
    report(taught, crossed(taught))
    table = written(taught, fitted(taught))
    print(table)
    for name in target:
        with open(name, "w") as out:
            out.write(table)


if __name__ == "__main__":
    main()
