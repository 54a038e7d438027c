import { actionFor } from "../../inspection/urgency/urgency-action.js";
import { urgencyOf } from "../../inspection/urgency/urgency.js";
import { washerById } from "../../machine/washers.js";
import type { ClipTask } from "./clip-task.js";
import type { TriageRow } from "../../answer/triage-row.js";

/** The row of a recording that could not be used; what the customer told still counts. */
export function failedRow(
  { file, ticket, other, key, settings }: ClipTask,
  problem: { readonly code: string; readonly message: string },
): TriageRow {
  const urgency = urgencyOf({ components: [], verdict: null, told: settings.told });
  const action = actionFor({
    components: [],
    verdict: null,
    nextChecks: [],
    washer: washerById("unknown"),
    urgency,
  });
  const triage = { ticket, urgency, action, told: settings.told, other, key };
  return { schema: "washer-noise/failure@1", file, problem, triage };
}
