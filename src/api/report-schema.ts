// api: the shape of requests for reports and files → schemas that read and describe them.
import * as z from "zod";

/** For whom a report is made. */
export const makeReportSchema = z.object({ for: z.enum(["repairer", "customer"]) });

/** Files of a job that can be downloaded once their task is done. */
const JOB_FILES = [
  "job-report.html",
  "job-report.pdf",
  "customer-report.html",
  "customer-report.pdf",
  "job.zip",
] as const;
export const jobFilePathSchema = z.object({ job: z.string(), file: z.enum(JOB_FILES) });
export const attemptFilePathSchema = z.object({
  job: z.string(),
  number: z.coerce.number().int().positive(),
  file: z.string().regex(/^[a-z-]+\.[a-z]+$/),
});

export type MakeReport = z.infer<typeof makeReportSchema>;
export type JobFile = (typeof JOB_FILES)[number];
