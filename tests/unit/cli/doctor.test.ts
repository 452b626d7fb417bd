// What `doctor` says of machines that are fit, and of those that are not.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { checkDisk, roomLine, sizeText } from "../../../src/cli/check-disk.js";
import {
  checkBrowser,
  checkFiles,
  checkMachine,
  checkMemory,
  checkNode,
  checkPort,
  OLDEST_NODE,
} from "../../../src/cli/check-machine.js";
import { findBrowser } from "../../../src/cli/find-browser.js";
import { main } from "../../../src/cli/main.js";
import { fakeSurroundings } from "./fake-surroundings.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "faultglow-doctor-"));
  writeFileSync(join(folder, "a-file"), "");
});
afterAll(() => rmSync(folder, { recursive: true }));

const USE = { what: "Folder", refused: "Take another", roomBytes: 5e8, roomFor: "it fills", made: true };

describe("what doctor looks at", () => {
  it.each([
    ["18.20.1", "not ok"],
    ["20.8.9", "not ok"],
    ["20.9.0", "ok"],
    ["23.1.0", "ok"],
  ])("Node %s is %s", (version, state) => {
    expect(checkNode(version).state).toBe(state);
  });

  it("warns of a Node without WebAssembly", () => {
    const line = checkNode("20.9.0", false);
    expect([line.state, line.fix]).toEqual(["look", expect.stringContaining("NODE_OPTIONS")]);
    expect(checkNode("18.0.0", false).state).toBe("not ok");
  });

  it("wants the Node that package.json wants", () => {
    const { engines } = JSON.parse(readFileSync(new URL("../../../package.json", import.meta.url), "utf8"));
    expect(engines.node).toBe(`>=${OLDEST_NODE.join(".")}`);
  });

  it("names the parts of the tool that are missing", () => {
    const line = checkFiles(folder);
    expect([line.state, line.found]).toEqual(["not ok", expect.stringContaining("dist/cli/main.cjs")]);
  });

  it("writes to a folder, and leaves nothing there", async () => {
    expect(await checkDisk(folder, { ...USE, roomBytes: 1 })).toMatchObject({ state: "ok", fix: null });
    expect(readdirSync(folder)).toEqual(["a-file"]);
  });

  it("looks above a folder that is made later, and makes nothing", async () => {
    const line = await checkDisk(join(folder, "later", "still-later"), { ...USE, roomBytes: 1 });
    expect([line.state, line.found]).toEqual(["ok", expect.stringContaining("will be made")]);
    expect(readdirSync(folder)).toEqual(["a-file"]);
  });

  it("says what to do about a folder that can't be written to", async () => {
    const line = await checkDisk(join(folder, "a-file", "jobs"), USE);
    expect(line).toMatchObject({ state: "not ok", fix: "Take another" });
    expect((await checkDisk(join(folder, "nowhere"), { ...USE, made: false })).state).toBe("not ok");
  });

  it.each([
    [6e8, "ok"],
    [4e8, "look"],
    [1e7, "not ok"],
  ])("judges %d bytes of room: %s", (bytes, state) => {
    expect(roomLine(USE, "writable", bytes).state).toBe(state);
  });

  it.each([
    [7, "7 B"],
    [2_400_000_000, "2.4 GB"],
    [320_000_000, "320 MB"],
    [5e15, "5000 TB"],
  ])("writes %d bytes as %s", (bytes, text) => {
    expect(sizeText(bytes)).toBe(text);
  });

  it("finds a browser where the system has its browsers, and says that only the page needs one", () => {
    const at = (platform: NodeJS.Platform, env: Record<string, string>, there: RegExp): string | null =>
      findBrowser({ platform, env, isThere: (path) => there.test(path) });
    expect(at("linux", { PATH: "/usr/games:/usr/bin" }, /\/usr\/bin\/chromium$/)).toBe("/usr/bin/chromium");
    expect(at("darwin", {}, /Safari/)).toBe("/Applications/Safari.app");
    expect(at("win32", { ProgramFiles: "P" }, /msedge/)).toMatch(/msedge\.exe$/);
    expect(at("linux", {}, /chromium/)).toBeNull();
    expect(checkBrowser(null).state).toBe("look");
    expect(checkBrowser("/usr/bin/firefox").state).toBe("ok");
  });

  it("warns of little memory", () => {
    expect([checkMemory(5e8).state, checkMemory(8e9).state]).toEqual(["look", "ok"]);
  });

  it("tells a free port from one that is taken", async () => {
    const server = createServer();
    await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
    const { port } = server.address() as AddressInfo;
    expect(await checkPort(port)).toMatchObject({ state: "look", found: `${port} is in use` });
    await new Promise((closed) => server.close(closed));
    expect((await checkPort(port)).state).toBe("ok");
    expect((await checkPort(0)).found).toBe("any is free");
  });
});

describe("doctor", () => {
  it("prints a line for each thing, as JSON too, and ends with 0 where nothing needed is missing", async () => {
    const lines = await checkMachine({ jobs: folder });
    const fit = lines.every(({ state }) => state !== "not ok");
    const surroundings = fakeSurroundings();
    const status = await main(["doctor", "--json", "--jobs", folder], surroundings);
    const told = JSON.parse(surroundings.printed().out);
    expect([status, told.fit]).toEqual([fit ? 0 : 2, fit]);
    expect(told.lines.map(({ what }: { what: string }) => what)).toEqual(lines.map(({ what }) => what));
    expect(lines.find(({ what }) => what === "Pictures")?.state).toBe("ok");
  });

  it("ends with E_MACHINE where something needed is not ok, and says what to do", async () => {
    const surroundings = fakeSurroundings();
    expect(await main(["doctor", "--jobs", join(folder, "a-file")], surroundings)).toBe(2);
    const { out, err } = surroundings.printed();
    expect(out).toMatch(
      /^not ok {2}Jobs folder .*a-file can't be written to.*\n +Give another folder to faultglow bench/m,
    );
    expect(err).toMatch(/^E_MACHINE: .*Jobs folder/);
  });
});
