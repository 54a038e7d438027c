import type { Washer } from "../../machine/profile.js";
import type { Job } from "../job/job.js";
import { countedFindings, readFindings } from "../next-step/job-findings.js";
import type { NextStep } from "../next-step/next-step-answer.js";
import { planVisit, type Visit } from "./visit.js";

/** What to take along and whether mending pays, from a job and what it advises next. */
export const visitOfJob = (job: Job, answer: NextStep, machine: Washer): Visit =>
  planVisit({
    ranking: answer.components,
    machine,
    ageYears: job.machine.ageYears ?? null,
    prices: job.prices ?? {},
    findings: countedFindings(readFindings(job)),
  });
