"""How far any method could get with the figures of evidence: trees that have heard the very hand they are asked about.

    node .tools/tests/tools/hear-simulator.js own.ndjson 400 40000 told 0.3 0.1 second
    /usr/bin/python3 tests/tools/evidence-bound.py own.ndjson [other.ndjson...]

Prints how often the right cause is first and among the first three, for the program's own ranking (abstentions
counted in), for trees taught on the other files only, and for trees taught on four fifths of `own` and asked about
the rest, each fifth in turn. scikit-learn 1.2.1 (Debian 12, python3-sklearn): ExtraTreesClassifier, 400 trees.
"""

import json
import sys

import numpy as np
from sklearn.ensemble import ExtraTreesClassifier
from sklearn.model_selection import StratifiedKFold

MISSING = -99.0


def read(path):
    """Figures, cause and ranking of every recording of a washer in a file of heard lines."""
    out = []
    for line in open(path, encoding="utf-8"):
        one = json.loads(line)
        truth = one["truth"]
        if not truth.get("washer") or not one["told"]:
            continue
        figures = {k: f["value"] for k, f in one["features"].items() if f["value"] is not None}
        figures |= {f"score {k}": v for k, v in one["answer"]["scores"].items()}
        figures |= {f"phase {truth['phase']}": 1.0, f"machine {truth['machine']}": 1.0}
        cause = truth["faults"][0] if truth["faults"] else "normal"
        out.append((figures, cause, [c["component"] for c in one["answer"]["components"]]))
    return out


def table(rows, names):
    absent = [0.0 if n.startswith(("phase ", "machine ")) else MISSING for n in names]
    return np.array([[figures.get(n, a) for n, a in zip(names, absent)] for figures, _, _ in rows])


def trees():
    return ExtraTreesClassifier(400, min_samples_leaf=2, n_jobs=2, random_state=0)


def show(name, rankings, causes):
    for_top = [100 * np.mean([c in r[:top] for r, c in zip(rankings, causes)]) for top in (1, 3)]
    print(f"{name:34s} n {len(causes):4d}  first {for_top[0]:.1f} %  first three {for_top[1]:.1f} %")


def ranked(model, x):
    return [list(model.classes_[np.argsort(-row)]) for row in model.predict_proba(x)]


own = read(sys.argv[1])
others = [row for path in sys.argv[2:] for row in read(path)]
names = sorted({n for figures, _, _ in own + others for n in figures})
x, y = table(own, names), np.array([cause for _, cause, _ in own])
show("the program", [r for _, _, r in own], y)
if others:
    taught = trees().fit(table(others, names), [cause for _, cause, _ in others])
    show("trees taught on the other files", ranked(taught, x), y)
rankings = [[] for _ in own]
for taught_by, asked in StratifiedKFold(5, shuffle=True, random_state=0).split(x, y):
    model = trees().fit(x[taught_by], y[taught_by])
    for i, ranking in zip(asked, ranked(model, x[asked])):
        rankings[i] = ranking
show("trees taught on the same hand", rankings, y)
