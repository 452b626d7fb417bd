// serve: a job folder → its reports and its pack in the job's `report` folder.
import { makeInJob } from "../store/make-in-job.js";
import { packJob } from "../store/pack-job.js";
import { REPORT_FOLDER, writeJobReport } from "../store/write-job-report.js";
import type { DoWork } from "./works.js";

/** Write the report of a job. @throws ToolError those of `writeJobReport`. */
export const reportJob: DoWork<"report"> = async ({ folder, audience }, { toolVersion, say }) => {
  say({ text: "Drawing the report", done: 0, total: null });
  await writeJobReport(folder, audience, { toolVersion });
  return null;
};

/** Pack a job. @throws ToolError those of `packJob`. */
export const packToFile: DoWork<"pack"> = async ({ folder, file }, { toolVersion, say }) => {
  say({ text: "Checking and packing the job", done: 0, total: null });
  await makeInJob(folder, REPORT_FOLDER);
  const { noReport } = await packJob(folder, file, { toolVersion });
  return { noReport };
};
