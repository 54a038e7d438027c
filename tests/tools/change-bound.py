"""How well any method tells repaired from not repaired by what `compare` goes by (docs/validation.md).

    node .tools/tests/tools/compare-pairs.js signs KEPT.ndjson... SIGNS.ndjson
    /usr/bin/python3 tests/tools/change-bound.py SIGNS.ndjson

Each hand's pairs are judged by the three weighted signs, and by trees on these and on all that the diagnoses say,
both taught on the other hands alone. Printed: chance that a repaired pair lies above one that was not repaired.
Needs numpy and scikit-learn.
"""
import importlib
import json
import sys

import numpy as np
from sklearn.ensemble import ExtraTreesClassifier

model = importlib.import_module("fit-change-model")
FIGURES = model.SIGNS + ("wrongBefore", "wrong", "leanBefore", "lean")
KEPT = ("not repaired", "not repaired, turned round")


def by_trees(rows):
    figures = np.array([[row[name] for name in FIGURES] for row in rows])
    gone = np.array([row["kind"] in model.GONE for row in rows])
    hands = np.array([row["hand"] for row in rows])
    taught = np.array([row["kind"] in model.GONE + model.THERE for row in rows])
    out = np.full(len(rows), np.nan)
    for hand in sorted(set(hands)):
        others = (hands != hand) & taught
        trees = ExtraTreesClassifier(600, min_samples_leaf=4, class_weight="balanced", random_state=1)
        trees.fit(figures[others], gone[others])
        out[hands == hand] = trees.predict_proba(figures[hands == hand])[:, 1]
    return out


def above(high, low):
    return np.mean([np.mean(value > low) + 0.5 * np.mean(value == low) for value in high])


def main():
    with open(sys.argv[1], encoding="utf8") as lines:
        rows = [json.loads(line) for line in lines]
    kinds = np.array([row["kind"] for row in rows])
    repaired = np.isin(kinds, model.GONE)
    print(f"{repaired.sum()} repaired, {np.isin(kinds, KEPT).sum()} not repaired")
    for name, nats in (("three signs", model.crossed(rows)), ("trees on all figures", by_trees(rows))):
        weaker = kinds == "6 dB weaker"
        print(
            f"{name}: over not repaired {above(nats[repaired], nats[np.isin(kinds, KEPT)]):.3f},"
            f" over 6 dB weaker {above(nats[repaired], nats[weaker]):.3f}"
        )


if __name__ == "__main__":
    main()
