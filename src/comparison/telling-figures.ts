import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import { FEATURES, type FeatureId, type FeatureRow } from "../evidence/features.data.js";
import { logistic } from "../foundation/statistics.js";
import type { Component } from "../machine/words.js";
import { CHANGE_MODEL } from "./change-model.data.js";
import type { ComparedFeature } from "./comparison.js";
import type { Signs } from "./change-model.js";
import type { FineChange } from "./fine-bands.js";
import { likeliestOf, partsInQuestion, type Judged } from "./part-lean.js";
import { spreadOf } from "./resample-blocks.js";
import { natsOf, signsOf, type JudgedChange } from "./weigh-change.js";

const ROWS: ReadonlyMap<FeatureId, FeatureRow> = new Map(FEATURES.map((row) => [row.id, row]));
const SHOWN = 4;

/** What one rule says of a part against a machine in order, and the figure it was asked of. */
interface Said {
  readonly feature: FeatureId;
  readonly value: number;
  readonly nats: number;
}

function saidOf({ ranking }: Judged, part: Component): Map<string, Said> {
  const out = new Map<string, Said>();
  for (const [component, sign] of [[part, 1] as const, ["normal", -1] as const]) {
    const row = ranking.find((one) => one.component === component);
    for (const { rule, nats, measurement } of row?.contributions ?? []) {
      const before = out.get(rule.id)?.nats ?? 0;
      out.set(rule.id, {
        feature: rule.feature,
        value: measurement.value!,
        nats: before + sign * nats,
      });
    }
  }
  return out;
}

/**
 * The figures that spoke for or against a part and changed most for what they say: only those that were
 * measured in both recordings, each with what its change adds to the odds that the noise is gone.
 */
function figuresOfPart(before: Judged, after: Judged, part: Component): ComparedFeature[] {
  const [was, is] = [saidOf(before, part), saidOf(after, part)];
  const changes = new Map<FeatureId, ComparedFeature>();
  for (const [id, { feature, value, nats }] of was) {
    const now = is.get(id);
    if (now === undefined) continue;
    const { meaning, unit } = ROWS.get(feature)!;
    const moved =
      CHANGE_MODEL.weights.fade * (nats / 2 - now.nats) + (changes.get(feature)?.nats ?? 0);
    changes.set(feature, {
      feature,
      meaning,
      unit,
      before: value,
      after: now.value,
      change: null,
      nats: moved,
    });
  }
  return [...changes.values()]
    .filter(({ nats }) => Math.abs(nats) >= 0.05)
    .sort((a, b) => Math.abs(b.nats) - Math.abs(a.nats))
    .slice(0, SHOWN);
}

/** What a verdict stands on: how the fine peaks differ, also with blocks drawn anew, and both diagnoses. */
interface Grounds {
  readonly fine: FineChange | null;
  readonly drawn: readonly (FineChange | null)[];
  readonly before: Judged;
  readonly after: Judged;
  readonly change: JudgedChange;
  readonly part: Component;
}

function finePeaks({ fine, drawn }: Grounds, signs: Signs): ComparedFeature[] {
  if (fine === null) return [];
  const moved = drawn.map((one) => (one?.correlation ?? 1) - 1);
  return [
    {
      feature: "fine-peaks",
      meaning:
        "how far the narrow peaks of the spectrum (150 Hz to 7 kHz) are those of the recording before",
      unit: "ratio",
      before: 1,
      after: fine.correlation,
      change: spreadOf(fine.correlation - 1, moved),
      nats: natsOf("difference", signs),
    },
  ];
}

/** The signs of the verdict, the chance that anything is wrong, and the figures that changed most for the part. */
export function tellingFigures(grounds: Grounds): ComparedFeature[] {
  const { fine, before, after, change, part } = grounds;
  const signs = signsOf(fine, change);
  const likeliest = likeliestOf(before, partsInQuestion(before, part));
  return [
    ...finePeaks(grounds, signs),
    {
      feature: "patterns",
      meaning: "how far the patterns that the diagnosis asks for are others, 0 to 1",
      unit: "share",
      before: 0,
      after: change.shift,
      change: null,
      nats: natsOf("shift", signs),
    },
    {
      feature: "wrong",
      meaning: "chance that anything is wrong, each recording diagnosed by itself",
      unit: "share",
      before: logistic(change.wrongBefore),
      after: logistic(change.wrong),
      change: null,
      nats: 0,
    },
    {
      feature: "lean",
      meaning: `how far what is heard speaks for the ${COMPONENT_NAMES[likeliest]} against a machine in order; in it, as far as both recordings show them, the figures below`,
      unit: "nats",
      before: change.leanBefore,
      after: change.lean,
      change: null,
      nats: natsOf("fade", signs),
    },
    ...figuresOfPart(before, after, likeliest),
  ];
}
