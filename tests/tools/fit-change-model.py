"""Fits src/comparison/change-model.data.ts from portraits of simulated washers (docs/validation.md).

    node .tools/tests/tools/compare-pairs.js portraits SEED COUNT first PORTRAITS.ndjson [fitting|ordinary]
    python3 tests/tools/fit-change-model.py all PORTRAITS.ndjson... src/comparison/change-model.data.ts
    python3 tests/tools/fit-change-model.py signs PORTRAITS.ndjson... src/comparison/change-model.data.ts

`signs` keeps the table's figures and directions and weighs them anew. Needs numpy. One line a recording:
{"washer", "kind", "fit": may be compared, "figures": {name: mean}}.
Two covariances as in probabilistic linear discriminant analysis (Ioffe, ECCV 2006): of recordings that
hold the same sound, and of machines that were repaired about where machines in order lie.
"""
import json
import re
import sys

import numpy as np

SAME = [("before", "kept"), ("before", "before2"), ("before2", "kept")]
IN_ORDER = [("repaired", "repaired2")]
GONE = [(b, a) for b in ("before", "before2", "kept") for a in ("repaired", "repaired2")]
AFTER = ("repaired", "kept", "weak3", "weak6")
TAUGHT = GONE + SAME + [(b, a) for b in ("before", "before2", "kept") for a in ("weak3", "weak6")]
KINDS = ("before", "before2", "repaired2") + AFTER
PLANES, DIRECTIONS, SHRINK = 60, 20, 0.3
FOLDS, FARTHEST, MOST_SLOPE, MOST_UNUSUAL = 8, 8, 0.95, 7
# As in src/comparison/fine-bands.ts.
FINE_BANDS, FINE_PER_OCTAVE, LEAST_FINE, FARTHEST_DB, LEAST_DB = 67, 12, 24, 12, 0.5


def load(paths):
    washers = {}
    for path in paths:
        with open(path) as lines:
            for row in map(json.loads, lines):
                washers.setdefault(row["washer"], {})[row["kind"]] = row
    ids = [w for w, kinds in washers.items() if {"before", *AFTER} <= set(kinds)]
    names = sorted(
        {n for w in ids for row in washers[w].values() for n in row["figures"] if not n.startswith("fine.")}
    )
    place = {name: j for j, name in enumerate(names)}
    values = {kind: np.full((len(ids), len(names)), np.nan) for kind in KINDS}
    fine = {kind: np.full((len(ids), FINE_BANDS), np.nan) for kind in KINDS}
    fit = {kind: np.zeros(len(ids), bool) for kind in KINDS}
    for i, washer in enumerate(ids):
        for kind, row in washers[washer].items():
            fit[kind][i] = row["fit"]
            for name, value in row["figures"].items():
                if name.startswith("fine."):
                    fine[kind][i, int(name[5:])] = value
                else:
                    values[kind][i, place[name]] = value
    octave = [place[f"click-rise.{j}"] for j in range(7)]
    carried = {kind: np.isfinite(values[kind][:, octave]) for kind in KINDS}
    return ids, names, values, fine, fit, carried


class Pairs:
    def __init__(self, paths):
        self.ids, self.names, self.values, self.fine, self.fit, self.carried = load(paths)

    def comparable(self, before, after):
        had, has = self.carried[before], self.carried[after]
        common = (had & has).sum(1)
        octaves = (common >= 4) & (had.sum(1) - common <= 3)
        return self.fit[before] & self.fit[after] & octaves


def without_bends(levels, octaves):
    there = np.isfinite(levels)
    distance = np.subtract.outer(np.arange(FINE_BANDS), np.arange(FINE_BANDS))
    width = octaves * FINE_PER_OCTAVE
    weights = np.where(abs(distance) <= 3 * width, np.exp(-0.5 * (distance / width) ** 2), 0) * there
    flat = levels - weights @ np.where(there, levels, 0) / np.maximum(weights.sum(1), 1e-9)
    return np.clip(flat[there], -FARTHEST_DB, FARTHEST_DB)


def fine_change(before, after):
    """Likeness and difference of src/comparison/fine-bands.ts, one row a pair; NaN when too narrow."""
    out = np.full((len(before), 2), np.nan)
    for i, (b, a) in enumerate(zip(before, after)):
        both = np.isfinite(b + a)
        if both.sum() < LEAST_FINE:
            continue
        b, a = np.where(both, b, np.nan), np.where(both, a, np.nan)
        alike = np.corrcoef(without_bends(b, 0.25), without_bends(a, 0.25))[0, 1]
        rms = np.sqrt(np.mean((without_bends(a, 0.5) - without_bends(b, 0.5)) ** 2))
        out[i] = np.arctanh(np.clip(alike, -0.99, 0.99)), np.log(rms + LEAST_DB)
    return out


def standardised(before, after, usual, spread):
    b, a = (before - usual) / spread, (after - usual) / spread
    missing = ~np.isfinite(b * a)
    b, a = np.where(missing, 0, b), np.where(missing, 0, a)
    return np.clip(b, -FARTHEST, FARTHEST), np.clip(a, -FARTHEST, FARTHEST)


def clipped_spread(x):
    limit = 3 * 1.4826 * np.nanmedian(np.abs(x), 0) + 1e-9
    return np.sqrt(np.nanmean(np.clip(x, -limit, limit) ** 2, 0)) + 1e-6


def robust_line(x, y):
    weight = np.ones(len(x))
    for _ in range(4):
        mx, my = np.average(x, weights=weight), np.average(y, weights=weight)
        slope = (weight * (x - mx) * (y - my)).sum() / ((weight * (x - mx) ** 2).sum() + 1e-9)
        slope = np.clip(slope, 0, MOST_SLOPE)
        offset = my - slope * mx
        rest = y - offset - slope * x
        weight = 1 / (1 + (rest / (1.4826 * np.median(np.abs(rest)) + 1e-6)) ** 2 / 6)
    return slope, offset, clipped_spread(rest)


def fitted(pairs, chosen):
    def gathered(kinds):
        rows = [(b, a, chosen & pairs.comparable(b, a)) for b, a in kinds]
        return [np.vstack([pairs.values[k[s]][k[2]] for k in rows]) for s in (0, 1)]

    usual = np.nanmean(np.vstack([pairs.values[k][chosen & pairs.fit[k]] for k in ("repaired", "repaired2")]), 0)
    before, after = gathered(SAME)
    spread = clipped_spread(after - before)
    same = standardised(before, after, usual, spread)
    order = standardised(*gathered(IN_ORDER), usual, spread)
    gone = standardised(*gathered(GONE), usual, spread)
    planes = np.linalg.svd(np.vstack(same + gone), full_matrices=False)[2][:PLANES].T
    faulty, normal = (same[1] - same[0]) @ planes, (order[1] - order[0]) @ planes
    within = (faulty.T @ faulty + normal.T @ normal / 2) / (len(faulty) + len(normal) / 2)
    within = (1 - SHRINK) * within + SHRINK * np.diag(np.diag(within))
    values, vectors = np.linalg.eigh(within)
    white = planes @ vectors / np.sqrt(values)
    change = (gone[1] - gone[0]) @ white
    values, vectors = np.linalg.eigh(change.T @ change / len(change))
    weights = white @ vectors[:, np.argsort(-values)[:DIRECTIONS]]
    x, y = gone[0] @ weights, gone[1] @ weights
    lines = np.array([robust_line(x[:, i], y[:, i]) for i in range(DIRECTIONS)])
    return {"usual": usual, "spread": spread, "weights": weights, "lines": lines}


def signs(model, before, after):
    """The first three signs of src/comparison/weigh-change.ts, as they are and as a full cure would make them."""
    b, a = (x @ model["weights"] for x in standardised(before, after, model["usual"], model["spread"]))
    slope, offset, spread = model["lines"].T
    goal = offset + slope * b
    excess = np.sqrt(((b - goal) ** 2).sum(1))
    left = ((a - goal) * (b - goal)).sum(1) / excess
    unusual = np.minimum(np.sqrt((((a - goal) / spread) ** 2).sum(1)), MOST_UNUSUAL)
    usual = np.full(len(b), np.sqrt(DIRECTIONS))
    return np.c_[left, excess - left, unusual], np.c_[0 * left, excess, usual]


def logistic(x, y, w):
    """Weights and bias, with a ridge of 10 in units of the columns' spreads; Newton's method."""
    middle, width = x.mean(0), x.std(0)
    z = np.c_[(x - middle) / width, np.ones(len(x))]
    ridge = np.diag([10.0] * x.shape[1] + [0.0])
    p = np.zeros(z.shape[1])
    for _ in range(30):
        chance = 1 / (1 + np.exp(-z @ p))
        slope = z.T @ (w * (y - chance)) - ridge @ p
        p = p + np.linalg.solve((z * (w * chance * (1 - chance))[:, None]).T @ z + ridge, slope)
    weights = p[:-1] / width
    return weights, p[-1] - weights @ middle


def gathered_pairs(pairs, model, chosen):
    """Of all pairs that teach: three signs, two fine signs, gone or not, weight."""
    x, z, y, w = [], [], [], []
    for before, after in TAUGHT:
        rows = chosen & pairs.comparable(before, after)
        x.append(signs(model, pairs.values[before][rows], pairs.values[after][rows])[0])
        z.append(fine_change(pairs.fine[before][rows], pairs.fine[after][rows]))
        y.append(np.full(rows.sum(), float(after.startswith("repaired"))))
    x, z, y = np.vstack(x), np.vstack(z), np.concatenate(y)
    w = np.where(y > 0, 1 / (y > 0).sum(), 1 / (y == 0).sum()) * len(y) / 2
    return x, z, y, w


def weighed(pairs, model, chosen):
    """Weights of the five signs, bias, and the fine signs of even and of cured pairs."""
    x, z, y, w = gathered_pairs(pairs, model, chosen)
    own = model["own"] if "own" in model else logistic(x, y, w)[0]
    wide = np.isfinite(z[:, 0])
    scale, bias = logistic(np.c_[x @ own, z][wide], y[wide], w[wide])
    cured = np.median(z[wide & (y > 0)], 0)
    even = (np.mean(z[wide & (y > 0)], 0) + np.mean(z[wide & (y == 0)], 0)) / 2
    return np.r_[scale[0] * own, scale[1:]], bias, even, cured


def crossed(pairs, fit):
    """Log-odds, and what a full cure would give, of washers that the fit has not seen."""
    count = len(pairs.ids)
    fold = np.random.default_rng(0).permutation(count) % FOLDS
    out = {k: np.full((2, count), np.nan) for k in AFTER}
    for f in range(FOLDS):
        model = fit(pairs, fold != f)
        weights, bias, even, cured = weighed(pairs, model, fold != f)
        left = fold == f
        for k in AFTER:
            both = signs(model, pairs.values["before"][left], pairs.values[k][left])
            fine = fine_change(pairs.fine["before"][left], pairs.fine[k][left])
            fine = np.where(np.isfinite(fine), fine, even)
            whole = np.c_[both[0], fine], np.c_[both[1], np.tile(cured, (left.sum(), 1))]
            out[k][:, left] = [x @ weights + bias for x in whole]
    return {k: out[k][:, pairs.comparable("before", k)] for k in AFTER}


def figures(values, digits):
    return ", ".join(f"{v:.{digits}f}" for v in values)


NAMES = ("left", "gone", "unusual", "likeness", "difference")


def weights_text(weights, bias, even, cured):
    parts = ", ".join(f"{k}: {v:.4f}" for k, v in zip(NAMES, weights))
    fine = lambda v: f"{{ likeness: {v[0]:.3f}, difference: {v[1]:.3f} }}"
    return [
        f"  signs: {{ {parts} }},",
        f"  bias: {bias:.3f},",
        f"  evenFine: {fine(even)},",
        f"  curedFine: {fine(cured)},",
    ]


def written(pairs, model, weights, source):
    rows = [
        f'    {{ name: "{n}", usual: {u:.3f}, spread: {s:.3f} }},'
        for n, u, s in zip(pairs.names, model["usual"], model["spread"])
    ]
    directions = [
        f"    {{ slope: {s:.3f}, offset: {o:.3f}, spread: {g:.3f}, weights: [{figures(w, 3)}] }},"
        for (s, o, g), w in zip(model["lines"], model["weights"].T)
    ]
    return "\n".join(
        ['import type { ChangeModel } from "./change-model.js";', ""]
        + ["/** Made by tests/tools/fit-change-model.py; see docs/validation.md. */"]
        + ["export const CHANGE_MODEL: ChangeModel = {", "  figures: [", *rows, "  ],", "  directions: ["]
        + [*directions, "  ],", *weights_text(*weights)]
        + [f'  source: "{source}",', '  provenance: "computed",', "};", ""]
    )


def model_in(text, names):
    """Figures and directions as the table holds them, and its first three signs."""
    number = r"(-?[\d.]+)"
    found = re.findall(rf'name: "([^"]+)", usual: {number}, spread: {number}', text)
    if [name for name, *_ in found] != names:
        raise SystemExit("The portraits hold other figures than the table: fit with `all`.")
    lines = re.findall(
        rf"slope: {number},\s*offset: {number},\s*spread: {number},\s*weights: \[([^\]]*)\]", text
    )
    signs_text = re.search(r"signs: \{([^}]*)\}", text).group(1)
    return {
        "usual": np.array([float(u) for _, u, _ in found]),
        "spread": np.array([float(s) for _, _, s in found]),
        "lines": np.array([[float(v) for v in line[:3]] for line in lines]),
        "weights": np.array([[float(v) for v in re.findall(number, line[3])] for line in lines]).T,
        "own": np.array([float(re.search(rf"{n}: {number}", signs_text).group(1)) for n in NAMES[:3]]),
    }


def report(nats):
    for k, (value, reach) in nats.items():
        print(k, len(value), "nats", figures(np.quantile(value, [0.02, 0.1, 0.5, 0.9, 0.95, 0.98, 1]), 2))
    for limit in np.arange(0.8, 2.3, 0.2):
        print(f"{limit:.1f}", {k: f"{np.mean(v >= limit):.3f}" for k, (v, _) in nats.items()})
    value, reach = nats["repaired"]
    for least in np.quantile(reach, [0, 0.25, 0.5, 0.75]):
        print(f"reach from {least:.2f}: {np.mean(value[reach >= least] >= 1.4):.3f} cured at 1.4")


def main():
    mode, *inputs, target = sys.argv[1:]
    pairs = Pairs(inputs)
    everyone = np.ones(len(pairs.ids), bool)
    with open(target) as table:
        text = table.read()
    if mode == "signs":
        kept = model_in(text, pairs.names)
        report(crossed(pairs, lambda *_: kept))
        lines = "\n".join(weights_text(*weighed(pairs, kept, everyone)))
        made = re.sub(r"  signs: \{.*?(?=\n  source:)", lambda _: lines, text, flags=re.S)
    else:
        report(crossed(pairs, fitted))
        model = fitted(pairs, everyone)
        source = f"fitted on {len(pairs.ids)} simulated washers (docs/validation.md)"
        made = written(pairs, model, weighed(pairs, model, everyone), source)
    with open(target, "w") as out:
        out.write(made)


if __name__ == "__main__":
    main()
