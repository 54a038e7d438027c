import { diagnoseRecordings } from "../../answer/diagnose-recordings.js";
import type { Answer } from "../../answer/answer.js";
import { complaintFactors } from "../../diagnosis/complaint.js";
import { WasherNoiseError } from "../../foundation/errors.js";
import { actionFor } from "../../inspection/urgency/urgency-action.js";
import { urgencyOf } from "../../inspection/urgency/urgency.js";
import type { Washer } from "../../machine/profile.js";
import { loadClip } from "../load-clip.js";
import { loadWasher } from "../load-washer.js";
import { writeClipPage } from "./clip-page.js";
import type { ClipTask } from "./clip-task.js";
import { failedRow } from "./failed-row.js";
import type { TriageRow } from "../../answer/triage-row.js";

function rowOf(answer: Answer, washer: Washer, task: ClipTask): TriageRow {
  const { components, verdict, nextChecks } = answer;
  const { told } = task.settings;
  const urgency = urgencyOf({ components, verdict: verdict.label, told });
  const action = actionFor({ components, verdict, nextChecks, washer, urgency });
  const { ticket, other, key } = task;
  return { ...answer, triage: { ticket, urgency, action, told, other, key } };
}

/** Listens to one recording. Never throws: what goes wrong becomes a failure row. */
export async function triageClip(task: ClipTask): Promise<TriageRow> {
  const { file, settings, limits, pages } = task;
  const { machine, phase, drumRpm, motorRpm, lineHz, ageYears, told } = settings;
  try {
    const washer = await loadWasher(machine ?? undefined);
    const clip = await loadClip(file, limits);
    const { answer, figures, pictures } = diagnoseRecordings([{ ...clip, phase }], {
      washer,
      machineGiven: machine !== null,
      factors: complaintFactors(told),
      ...(drumRpm === null ? {} : { drumRpm }),
      ...(motorRpm === null ? {} : { motorRpm }),
      ...(lineHz === null ? {} : { lineHz }),
      ...(ageYears === null ? {} : { ageYears }),
      ...(pages === null ? {} : { pictures: pages.audio ? "with-clips" : "silent" }),
    });
    const row = rowOf(answer, washer, task);
    // A page that cannot be written costs no answer: whoever writes the list tries again and tells why.
    if (pages !== null && pictures) {
      await writeClipPage(row, pages, { figures, pictures }).catch(() => undefined);
    }
    return row;
  } catch (error) {
    const problem =
      error instanceof WasherNoiseError
        ? { code: error.code, message: error.message }
        : { code: "internal", message: error instanceof Error ? error.message : String(error) };
    return failedRow(task, problem);
  }
}
