// The report of the job that the browser tests go through → what has to stand in it.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { expect } from "vitest";

/** The report of a repairer opens by itself and tells the job: device, part, both attempts, what was done and read. */
export async function expectReport(browser: Browser, path: string, job: string): Promise<void> {
  const report = await browser.newPage();
  await report.goto(`file://${path}`);
  const text = ((await report.locator("body").textContent()) ?? "").replace(/\s+/g, " ");
  for (const word of ["soil meter", "C6 replaced", "Attempt 1", "Attempt 2"]) expect(text).toContain(word);
  const suspects = report.getByRole("table", { name: "Suspects, by all evidence" });
  expect(await suspects.getByRole("row", { name: /^C6/ }).count()).toBe(1);
  // What was typed at the bench stands in it, one row for each place.
  const readings = report.getByRole("table", { name: "Readings", exact: true });
  const typed = journalOf(job).filter(({ said }) => said.type === "reading").length;
  expect(typed).toBeGreaterThan(0);
  expect(await readings.getByRole("row").count()).toBe(typed + 1);
  // Small boards are drawn, one for each attempt.
  expect(await report.locator("figure svg").count()).toBeGreaterThanOrEqual(2);
  await report.close();
}

/** Lines of the journal of a job's folder. */
function journalOf(job: string): { said: { type: string } }[] {
  const text = readFileSync(join(job, "journal.jsonl"), "utf8");
  return text
    .trim()
    .split("\n")
    .map((line) => JSON.parse(line));
}
