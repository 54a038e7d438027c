import type { Diagnosis } from "../diagnosis/diagnose.js";
import type { ListeningContext } from "../evidence/context.js";
import type { Evidence } from "../evidence/evidence.js";
import { nextChecksFor } from "../inspection/next-checks.js";
import type { Washer } from "../machine/profile.js";
import type { Character, Component, Verdict } from "../machine/words.js";
import type { Pictures, RecordingPictures } from "./picture-data.js";
import { levelData } from "./picture-data-level.js";
import { rankingRows } from "./picture-data-ranking.js";
import { soundClips } from "./picture-data-sounds.js";
import { modulationData, orderData } from "./picture-data-spectra.js";
import { spectrogramData } from "./picture-data-spectrogram.js";
import { visitFactsOf } from "./visit-facts.js";

/** One recording as it was listened to. */
export interface ListenedClip {
  readonly context: ListeningContext;
  readonly evidence: Evidence;
}

/** Without an answer there is nothing to point at: only the recording itself is played. */
const ABSTAINING: readonly Verdict[] = ["record-again", "not-a-washer"];

/** A part is in question from this chance on. */
const SUSPECT_FROM = 0.08;

const suspectsOf = (diagnosis: Diagnosis): Component[] =>
  diagnosis.components
    .filter(({ component, probability }) => component !== "other" && probability >= SUSPECT_FROM)
    .map(({ component }) => component)
    .filter((component) => component !== "normal");

function picturesOfOne(
  { context, evidence }: ListenedClip,
  character: Character,
  suspects: readonly Component[],
  withClips: boolean,
): RecordingPictures {
  const modulation = modulationData(context, evidence.lines);
  const played = withClips
    ? soundClips(context, evidence, modulation, { character, suspects })
    : { clips: [], notes: [] };
  return {
    spectrogram: spectrogramData(context, evidence.lines),
    level: levelData(context, evidence.impacts),
    orders: orderData(context, evidence.lines),
    modulation,
    clips: played.clips,
    clipNotes: played.notes,
  };
}

/** What a report draws and plays of one machine's recordings. Costs about as much as the listening. */
export function picturesOf(
  listened: readonly ListenedClip[],
  diagnosis: Diagnosis,
  options: { readonly clips: boolean; readonly washer: Washer },
): Pictures {
  const abstained = ABSTAINING.includes(diagnosis.verdict.label);
  const suspects = abstained ? [] : suspectsOf(diagnosis);
  return {
    visit: visitFactsOf(
      diagnosis.components,
      nextChecksFor(diagnosis.components, diagnosis.verdict.label),
      options.washer,
    ),
    ranking: rankingRows(diagnosis.ranking),
    mainClip: diagnosis.mainClip,
    recordings: listened.map((one, i) =>
      picturesOfOne(
        one,
        abstained ? "none" : diagnosis.characters[i]!.label,
        suspects,
        options.clips,
      ),
    ),
  };
}
