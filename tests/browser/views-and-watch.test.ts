// A second view of one power-on, told apart by a click; a folder that is watched, named on the page: in Chromium on the
// real command.
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { makeScene } from "../simulate/make-scene.js";
import type { SimFrame } from "../simulate/scene.js";
import {
  beginJob,
  button,
  chooseFiles,
  endJob,
  jobFolder,
  open,
  section,
  table,
  textFile,
} from "./job-driver.js";
import { LONG } from "./patience.js";
import { samplePath } from "./sample-board.js";

afterEach(endJob);

describe("two views", () => {
  it("of one power-on are told apart by a click and joined on the board", async () => {
    const scene = makeScene("two-sides", 7);
    const other = scene.otherSide!;
    await beginJob(scene.board);
    const { page } = open;
    const csv = ({ width, height, data }: SimFrame): string => {
      const rows = Array.from({ length: height }, (_, y) =>
        Array.from(data.subarray(y * width, (y + 1) * width), (value) => value.toFixed(3)).join(","),
      );
      return rows.join("\n");
    };
    const files = (role: string, frames: readonly SimFrame[]) =>
      frames.map((frame, i) => textFile(`${role}-${i + 1}.csv`, csv(frame)));
    await chooseFiles([
      ...files("first-off", scene.baseline.slice(0, 1)),
      ...files("first-on", scene.powered.slice(0, 1)),
      textFile("first-view.json", JSON.stringify(scene.view)),
    ]);
    await button("Use for first-off-1.csv").click(LONG);
    await chooseFiles([
      ...files("turned-off", other.baseline.slice(0, 1)),
      ...files("turned-on", other.powered.slice(0, 1)),
    ]);
    for (const [name, title] of [
      ["turned-off-1.csv", "Baseline frames"],
      ["turned-on-1.csv", "Powered frames"],
    ] as const) {
      const row = table(title).getByRole("row", { name: new RegExp(name) });
      await row.getByRole("button", { name: "Mark as of the other view" }).click(LONG);
    }
    await table("Other view, baseline frames").waitFor();
    await page.getByText("Two views are joined on the board: place the first baseline of each.").waitFor();
    await expect.poll(() => button("Analyse").isDisabled(), LONG).toBe(true);
    // A reload forgets none of it.
    const kept = (): unknown[] => {
      const file = join(jobFolder(), "inbox/other-view.draft.json");
      return existsSync(file) ? JSON.parse(readFileSync(file, "utf8")).draft : [];
    };
    await expect.poll(() => kept().length, LONG).toBe(2);
    await page.reload();
    await table("Other view, powered frames").waitFor(LONG);
    await chooseFiles(textFile("turned-view.json", JSON.stringify(other.view)));
    await page
      .getByRole("listitem")
      .filter({ hasText: "turned-view.json" })
      .getByRole("button", { name: "Use for turned-off-1.csv" })
      .click(LONG);
    await expect.poll(() => button("Analyse").isEnabled(), LONG).toBe(true);
    await button("Analyse").click();
    await page.locator(".board-canvas").waitFor(LONG);
    const attempt = JSON.parse(readFileSync(join(jobFolder(), "attempts/001/attempt.json"), "utf8"));
    expect(attempt.views.map(({ view }: { view: { side: string } }) => view.side)).toEqual([
      scene.view.side,
      other.view.side,
    ]);
    // The other side has pictures of its own, on a canvas of its own.
    const first = await page.locator(".board-canvas").elementHandle();
    const [pictures] = await Promise.all([
      page.waitForResponse(/\/attempts\/1\/pictures\?view=1$/, LONG),
      page.getByLabel("Side").selectOption({ label: other.view.side }),
    ]);
    expect(pictures.status()).toBe(200);
    await expect.poll(() => first!.evaluate((canvas) => canvas.isConnected), LONG).toBe(false);
    await page.locator(".board-canvas").waitFor(LONG);
    // The next attempt is of one view again unless a powered frame of the other one comes.
    await section("Frames");
    await page.getByText("A frame with power is missing.").waitFor();
    expect(open.faults).toEqual([]);
  });
});

describe("a watched folder", () => {
  it("is named on the page, and its frames become attempts there without a reload", async () => {
    await beginJob();
    const { page } = open;
    const folder = mkdtempSync(join(tmpdir(), "faultglow-camera-"));
    await page.getByText("Watch a folder").click();
    await page.getByLabel("Folder on this machine").fill("camera");
    await button("Watch it").click();
    await page.getByText("expected the whole path of a folder").first().waitFor();
    await page.getByLabel("Folder on this machine").fill(folder);
    await button("Watch it").click();
    await page.getByText(`Watching ${folder}: 0 attempts so far`).waitFor(LONG);
    const loads: string[] = [];
    page.on("load", () => loads.push(page.url()));
    await section("Attempts");
    await page.getByText("There is no attempt yet.").waitFor();
    const drop = (name: string, from: string): void =>
      writeFileSync(join(folder, name), readFileSync(samplePath(from)));
    drop("off-1.csv", "attempt-1/baseline/frame-1.csv");
    drop("on-1.csv", "attempt-1/powered/frame-1.csv");
    await page.getByRole("article", { name: "Attempt 1" }).waitFor(LONG);
    // Whoever draws meanwhile goes on drawing: another attempt takes neither the board nor the tool away.
    await section("Board");
    await button("Draw board").click();
    await button("Rectangle").click();
    const editor = await page.locator(".draw-view").elementHandle();
    drop("on-2.csv", "attempt-3/powered/frame-1.csv");
    await page.getByRole("link", { name: "Attempts 2" }).waitFor(LONG);
    expect(await editor!.evaluate((element) => element.isConnected)).toBe(true);
    await expect.poll(() => button("Rectangle").getAttribute("aria-pressed"), LONG).toBe("true");
    await section("Attempts");
    await page.getByRole("article", { name: "Attempt 2" }).waitFor(LONG);
    // A file that is none is set aside, and said so; the watch goes on until it is stopped.
    writeFileSync(join(folder, "on-3.csv"), "not,a\nframe");
    await section("Frames");
    await page.getByText(/on-3\.csv was set aside/).waitFor(LONG);
    await button("Stop watching").click();
    await page.getByText("Watch a folder").waitFor(LONG);
    expect(loads).toEqual([]);
    // The browser itself notes the answer that refused the folder.
    expect(open.faults.filter((fault) => !fault.includes("422"))).toEqual([]);
    rmSync(folder, { recursive: true });
  });
});
