// Reports of a fault that was worked on, and that nothing has looked at since.
import { expect, it } from "vitest";
import { renderJobReport } from "../../../src/report/render-job-report.js";
import { makeJobModel } from "./make-job.js";

it("does not call a fault gone that was worked on and not looked at since", () => {
  const words = (mended: number, whom: "repairer" | "customer" = "customer"): string => {
    const model = makeJobModel({ mended });
    const [first, ...rest] = model.evidence!.suspects;
    const suspects = [{ ...first!, state: "unseen" as const, changed: ["replaced"] }, ...rest];
    const html = renderJobReport({ ...model, evidence: { ...model.evidence!, suspects } }, whom);
    return html.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");
  };
  expect(words(0.97)).toContain(
    "Work has been done on the fault; whether it is gone has not been measured yet. C31 was very probably the cause.",
  );
  expect(words(0.97)).not.toContain("is gone.");
  expect(words(0.97, "repairer")).toContain(
    "All that was wrong is mended: 97 %, by how often such work helps alone.",
  );
  expect(words(0.97, "repairer")).toContain("not looked at since");
  expect(words(0.1)).toContain(
    "The fault is very probably at C31. Work has been done on it; whether that mended it has not been measured yet.",
  );
});
