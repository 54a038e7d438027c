import type { Answer, RecordingFigures } from "../../answer/answer.js";
import { recordingWaits } from "../../inspection/cautions.js";
import type { EncodedClip } from "../../answer/encode-clips.js";
import type { Pictures } from "../../answer/picture-data.js";
import { recordingEvidence } from "./evidence-section.js";
import { deskSection, type DeskNote } from "./desk-section.js";
import { howToRecord } from "./how-to-record.js";
import { listeningSection } from "./listening-section.js";
import { html, type Markup } from "./markup.js";
import { diagnosisMasthead, headline } from "./masthead.js";
import { page, type PageSection } from "./page.js";
import { technicianSection } from "./technician-section.js";
import { isRanked } from "./words.js";

export interface DiagnosisPageInput {
  readonly answer: Answer;
  readonly figures?: readonly RecordingFigures[];
  readonly pictures?: Pictures;
  /** Shape [recordings][clips]; none: the page has no sound. */
  readonly clips?: readonly (readonly EncodedClip[])[];
  /** What the owner said of the noise, in the owner's words. */
  readonly complaint?: string;
  /** What the support desk does with it, when it is one of many. */
  readonly desk?: DeskNote;
}

/** Mail servers refuse what is much larger than this with everything around it. */
const MOST_CHARACTERS = 2_800_000;

/** The main recording first: it must not be the one that is left out. */
function byWeight(count: number, main: number): number[] {
  const order = Array.from({ length: count }, (_, i) => i);
  return order.sort((a, b) => Number(b === main) - Number(a === main) || a - b);
}

/** Markup of all recordings, without the pictures of those for which no room is left. */
function evidenceBodies({ answer, figures, pictures }: DiagnosisPageInput, room: number): Markup {
  const bodies: Markup[] = [];
  let left = room;
  for (const i of byWeight(answer.recordings.length, pictures?.mainClip ?? 0)) {
    const made = (withPictures: boolean): Markup =>
      recordingEvidence(
        answer.recordings[i]!,
        figures?.[i],
        withPictures ? (pictures?.recordings[i] ?? "not made") : "no room",
        i + 1,
      );
    const full = made(true);
    bodies[i] = full.source.length <= left ? full : made(false);
    left -= bodies[i]!.source.length;
  }
  return html`${bodies}`;
}

const CLIP_SHARE = 0.6;

/** Clips of the main recording first, then of the others while there is room. */
function listening({ answer, pictures, clips }: DiagnosisPageInput): Markup | null {
  if (clips === undefined || pictures === undefined) return null;
  let left = CLIP_SHARE * MOST_CHARACTERS;
  const kept: EncodedClip[][] = clips.map(() => []);
  const notes = pictures.recordings.map(({ clipNotes }) => [...clipNotes]);
  for (const i of byWeight(clips.length, pictures.mainClip)) {
    for (const clip of clips[i]!) {
      const cost = (4 * clip.bytes.length) / 3;
      if (cost <= left) kept[i]!.push(clip);
      else notes[i]!.push(`"${clip.title}" was left out to keep the file small enough to mail.`);
      left -= Math.min(left, cost);
    }
  }
  return listeningSection(
    answer.recordings.map(({ file }, i) => ({ file, clips: kept[i]!, notes: notes[i]! })),
  );
}

function aboutAnswer({ answer, complaint }: DiagnosisPageInput): Markup {
  const estimated =
    answer.estimated.length === 0
      ? "Nothing had to be estimated."
      : `Not told, and therefore estimated or left open: ${answer.estimated.join(", ")}.`;
  return html`${
      complaint === undefined
        ? null
        : html`<p>
            <strong>The owner says:</strong> <q><bdi>${complaint}</bdi></q>
          </p>`
    }
    <p>
      Machine:
      ${answer.machine.given ? answer.machine.label : "kind not told; all kinds considered"}.
      ${estimated}
    </p>`;
}

function sections(input: DiagnosisPageInput): PageSection[] {
  const { answer, pictures, desk } = input;
  const sound = listening(input);
  const room = MOST_CHARACTERS - (sound?.source.length ?? 0);
  const all: (PageSection | null)[] = [
    desk === undefined
      ? null
      : {
          id: "desk",
          title: "For the support desk",
          lead: "How pressing it is, and what to do.",
          body: deskSection(desk),
        },
    isRanked(answer)
      ? null
      : {
          id: "record",
          title: "How to record it",
          lead: recordingWaits(answer.cautions)
            ? "Only once somebody has found the machine safe to run."
            : "So that the next recording can be judged.",
          body: howToRecord(),
        },
    sound === null
      ? null
      : {
          id: "listen",
          title: "Listen",
          lead: "What is meant, made audible. Clips are equally loud; headphones help.",
          body: sound,
        },
    !isRanked(answer)
      ? null
      : {
          id: "visit",
          title: "For the technician",
          lead: "Where to open, what to check, what to bring, what to mind.",
          body: technicianSection(answer, pictures),
          foldable: true,
        },
    {
      id: "evidence",
      title: "Evidence",
      lead: "What was measured, for those who want to check the answer.",
      body: html`${aboutAnswer(input)}${evidenceBodies(input, room)}`,
      foldable: true,
    },
  ];
  return all.filter((section) => section !== null);
}

/**
 * The report of a diagnosis as one self-contained HTML file: the answer for the owner, the visit for
 * the technician, the evidence for the engineer. Stays under 3 MB: sounds, then pictures, of the less
 * telling recordings are left out first, and the page says so.
 */
export function diagnosisPage(input: DiagnosisPageInput): string {
  const { answer } = input;
  return page({
    title: `${headline(answer)} – noise report`,
    masthead: html`${diagnosisMasthead(answer)}`,
    sections: sections(input),
    footer: html`<p>
      Made from sound by washer-noise. Chances are calibrated on synthetic recordings; sound alone
      cannot prove a fault. Work inside the machine only unplugged; measurements under power are for
      licensed or trained people under local rules.
    </p>`,
  });
}
