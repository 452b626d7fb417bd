import { describe, expect, it } from "vitest";
import { GUIDE_PAGES } from "../../../src/cli/guide-command.js";
import { main } from "../../../src/cli/main.js";
import { fakeSurroundings } from "./fake-surroundings.js";

const run = async (...argv: string[]): Promise<{ status: number; out: string; err: string }> => {
  const surroundings = fakeSurroundings();
  const status = await main(argv, surroundings);
  return { status, ...surroundings.printed() };
};

describe("guide", () => {
  it("lists its pages", async () => {
    const { status, out } = await run("guide");
    expect(status).toBe(0);
    for (const page of Object.keys(GUIDE_PAGES)) expect(out).toContain(`  ${page}`);
  });

  it.each(Object.keys(GUIDE_PAGES))("prints the page %s, under a heading", async (page) => {
    const { status, out, err } = await run("guide", page);
    expect([status, err]).toEqual([0, ""]);
    expect(out).toMatch(/^# \S.*\n\n/);
    expect(out.length).toBeGreaterThan(400);
  });

  it("refuses a page that there is not, with the names of those that there are", async () => {
    const { status, err } = await run("guide", "cooking");
    expect(status).toBe(2);
    expect(err).toMatch(/^E_USAGE: .*taking-frames, troubleshooting, method/);
  });
});
