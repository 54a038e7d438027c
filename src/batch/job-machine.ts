import type { Job } from "../inspection/job/job.js";
import type { Washer } from "../machine/profile.js";
import { MACHINE_IDS } from "../machine/words.js";
import { fileOfJob, pathForJob } from "./job-file.js";
import { loadWasher } from "./load-washer.js";

/** The job's washer; a machine file must lie in the job's folder. Nothing told: the family `unknown`. */
export async function washerOfJob(jobPath: string, job: Job): Promise<Washer> {
  const { id, file } = job.machine;
  return loadWasher(file === undefined ? id : await fileOfJob(jobPath, file));
}

/**
 * The job with the machine that `--machine` names. A machine file outside the job's folder is kept as a
 * path that later commands refuse to follow unless it is named to them again.
 */
export function withMachine(jobPath: string, job: Job, told: string, washer: Washer): Job {
  const id = MACHINE_IDS.find((known) => known === told);
  const { ageYears, lineHz } = job.machine;
  return {
    ...job,
    machine: {
      ...(id ? { id } : { file: pathForJob(jobPath, told) }),
      label: washer.label,
      ...(ageYears === undefined ? {} : { ageYears }),
      ...(lineHz === undefined ? {} : { lineHz }),
    },
  };
}
