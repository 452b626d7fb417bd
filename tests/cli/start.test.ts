// The command before there is anything to run: a clone that was not set up.
import { execFile } from "node:child_process";
import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PROJECT, runCli } from "./run-cli.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-start-"));
  await cp(join(PROJECT, "bin"), join(folder, "bin"), { recursive: true });
  await cp(join(PROJECT, "package.json"), join(folder, "package.json"));
});
afterAll(() => rm(folder, { recursive: true }));

describe("the command", () => {
  it("says what to do where it is not built", async () => {
    const { status, err } = await new Promise<{ status: unknown; err: string }>((resolve) => {
      execFile(process.execPath, [join(folder, "bin/faultglow.js"), "find"], (error, _, text) => {
        resolve({ status: error?.code ?? 0, err: text });
      });
    });
    expect([status, err]).toEqual([2, expect.stringMatching(/^E_MACHINE: .*Run npm ci/)]);
  });

  it("is not built a second time by the first npx in its folder, and by npm ci it is", async () => {
    const { scripts } = JSON.parse(await readFile(join(PROJECT, "package.json"), "utf8"));
    expect(scripts.prepare).toBe("node src/is-built.mjs || npm run build");
    await cp(join(PROJECT, "src/is-built.mjs"), join(folder, "src/is-built.mjs"));
    const status = (npm_command: string): Promise<unknown> =>
      new Promise((resolve) => {
        const env = { PATH: process.env["PATH"] ?? "", npm_command };
        execFile(process.execPath, [join(folder, "src/is-built.mjs")], { env }, (error) =>
          resolve(error?.code ?? 0),
        );
      });
    expect([await status("exec"), await status("ci")]).toEqual([1, 1]);
    await mkdir(join(folder, "dist/page"), { recursive: true });
    await writeFile(join(folder, "dist/page/index.html"), "");
    expect([await status("exec"), await status("ci")]).toEqual([0, 1]);
  });

  it("asks for the Node that package.json asks for", async () => {
    const { engines } = JSON.parse(await readFile(join(PROJECT, "package.json"), "utf8"));
    const [major, minor] = engines.node.replace(">=", "").split(".");
    const text = await readFile(join(PROJECT, "bin/faultglow.js"), "utf8");
    expect(text).toContain(`major < ${major} || (major === ${major} && minor < ${minor})`);
  });

  it("prints its guide and its completion, and looks at the machine", async () => {
    expect((await runCli(["guide", "taking-frames"])).out).toMatch(/^# Taking frames/);
    expect((await runCli(["completion", "bash"])).out).toContain("complete -F _faultglow faultglow");
    const { lines } = JSON.parse((await runCli(["doctor", "--json"])).out);
    const own = lines.find(({ what }: { what: string }) => what === "Its own files");
    expect(own).toEqual({ what: "Its own files", state: "ok", found: "complete", fix: null });
  });
});
