// A job on the bench's page, on the real command in Chromium: begun, with or without a map, and its sections driven.
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { expect } from "vitest";
import { type OpenBench, openBenchPage } from "./open-bench.js";

/** The page that is open now. */
export let open: OpenBench;

/** Open the page, and begin a job on it. @param map its board; none, if absent. */
export async function beginJob(map?: unknown): Promise<void> {
  open = await openBenchPage();
  const { page } = open;
  await page.getByLabel("Device").fill("soil meter");
  await button("Begin the job").click();
  await page.getByText("Drop the frames here").waitFor();
  if (map === undefined) return;
  const job = /jobs\/([^/]+)/.exec(page.url())![1]!;
  const status = await page.evaluate(
    async ([id, board]) => {
      const headers = { "Content-Type": "application/json" };
      const body = JSON.stringify({ map: board });
      return (await fetch(`/api/jobs/${id}/boards`, { method: "POST", headers, body })).status;
    },
    [job, map] as const,
  );
  expect(status).toBe(201);
}

/** Close page and bench. */
export async function endJob(): Promise<void> {
  await open?.close();
}

/** Folder of the only job. */
export function jobFolder(): string {
  return join(open.jobs, readdirSync(open.jobs).find((entry) => entry.includes("soil"))!);
}

export const button = (name: string | RegExp) => open.page.getByRole("button", { name, exact: true });
export const table = (name: string) => open.page.getByRole("table", { name, exact: true });
export const section = (name: string) =>
  open.page.getByRole("navigation", { name: "Sections of the job" }).getByText(name).click();

type ChosenFiles = Parameters<ReturnType<OpenBench["page"]["locator"]>["setInputFiles"]>[0];
/** Choose files on the page of frames. */
export const chooseFiles = (files: ChosenFiles) =>
  open.page.getByLabel("Files", { exact: true }).setInputFiles(files);

/** A file of text, as it is chosen. */
export const textFile = (name: string, content: string) => ({
  name,
  mimeType: name.endsWith(".json") ? "application/json" : "text/csv",
  buffer: Buffer.from(content),
});
