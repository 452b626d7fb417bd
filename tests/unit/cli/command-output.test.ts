import { describe, expect, it } from "vitest";
import { openOutput, stylesFor, takesColours } from "../../../src/cli/command-output.js";
import { frameProgress, withProgress } from "../../../src/cli/frame-progress.js";
import { fakeSurroundings } from "./fake-surroundings.js";

describe("takesColours", () => {
  // no-color.org: colours are off if NO_COLOR is there and not empty, whatever it holds.
  it.each([
    [true, {}, true],
    [true, { NO_COLOR: "1" }, false],
    [true, { NO_COLOR: "0" }, false],
    [true, { NO_COLOR: "" }, true],
    [true, { TERM: "dumb" }, false],
    [false, {}, false],
  ])("terminal %s with %o: %s", (tty, env, coloured) => {
    const surroundings = fakeSurroundings({ tty, env });
    expect(takesColours(surroundings.out, surroundings.env)).toBe(coloured);
  });
});

describe("stylesFor", () => {
  it("opens and closes a style, or leaves the text alone", () => {
    expect(stylesFor(true).bold("a")).toBe("\u001b[1ma\u001b[22m");
    expect(stylesFor(false).bold("a")).toBe("a");
  });
});

describe("openOutput", () => {
  it("keeps results and remarks apart", async () => {
    const surroundings = fakeSurroundings();
    const output = openOutput(surroundings);
    await output.result("r");
    await output.remark("m");
    expect(surroundings.printed()).toEqual({ out: "r", err: "m" });
  });

  it("takes a reader that has gone away quietly, and any other failure as E_OUTPUT", async () => {
    await expect(openOutput(fakeSurroundings({ failWith: "EPIPE" })).result("r")).resolves.toBeUndefined();
    await expect(openOutput(fakeSurroundings({ failWith: "ENOSPC" })).result("r")).rejects.toMatchObject({
      code: "E_OUTPUT",
      message: expect.stringContaining("the disk is full"),
    });
  });
});

describe("frameProgress", () => {
  const run = async (tty: boolean, quiet: boolean, total: number): Promise<string> => {
    const surroundings = fakeSurroundings({ tty });
    const progress = frameProgress(openOutput(surroundings), quiet);
    for (let read = 1; read <= total; read++) progress.show(read, total);
    await progress.done();
    return surroundings.printed().err;
  };

  it("draws on a terminal during a long burst and wipes its line", async () => {
    const text = await run(true, false, 120);
    expect(text).toContain("reading frames: 120 of 120 files");
    expect(text.endsWith("\r\u001b[K")).toBe(true);
  });

  it("wipes its line before an error is told", async () => {
    const surroundings = fakeSurroundings({ tty: true });
    const work = withProgress(openOutput(surroundings), false, async ({ show }) => {
      show(60, 120);
      throw new Error("the 61st is torn");
    });
    await expect(work).rejects.toThrow("the 61st is torn");
    const { err } = surroundings.printed();
    expect([err.includes("60 of 120 files"), err.endsWith("\r\u001b[K")]).toEqual([true, true]);
  });

  it("is silent elsewhere", async () => {
    expect(await run(false, false, 120)).toBe("");
    expect(await run(true, true, 120)).toBe("");
    expect(await run(true, false, 12)).toBe("");
  });
});
