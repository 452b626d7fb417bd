// What the README and DEVELOPERS.md say of commands, options, scripts, files and output is so.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, statSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { parseBoardMap } from "../../src/board/parse-board-map.js";
import { parseView } from "../../src/board/parse-view.js";
import { placeView } from "../../src/board/place-view.js";
import { ANALYSE_DEFAULTS } from "../../src/findings/analyse-options.js";
import { readScaleObject } from "../../src/frames/scale-schema.js";
import { FRAME_EXTENSIONS } from "../../src/read/frame-extensions.js";
import { CAUTIONS } from "../../src/report/cautions.js";
import { helpOf } from "./help-of.js";
import { listFiles, markdownSection, markdownTable, PROJECT, readText, STAGES } from "./project.js";
import { codeTables, runTutorial, type StepRun, tutorialSteps } from "./readme.js";

const readme = readText("README.md");
const developers = readText("DEVELOPERS.md");

/** Commands that do something by themselves, by walking through the help. */
async function commandsBelow(words: readonly string[]): Promise<string[][]> {
  const help = await helpOf(words);
  const listed = /\nCommands:\n((?: {2}.*\n?)+)/.exec(help)?.[1] ?? "";
  const names = [...listed.matchAll(/^ {2}(\w[\w-]*)/gm)]
    .map((match) => match[1]!)
    .filter((name) => name !== "help");
  if (names.length === 0) return [[...words]];
  return (await Promise.all(names.map((name) => commandsBelow([...words, name])))).flat();
}

const commands = await commandsBelow([]);
const documented = [...readme.matchAll(/^### `faultglow ([a-z -]+)`$/gm)].map((match) =>
  match[1]!.split(" "),
);

describe("commands in the README", () => {
  it("are those that there are", () => {
    expect(commands.length).toBeGreaterThan(2);
    expect(documented).toEqual(commands);
  });

  it.each(commands.map((words) => [words.join(" "), words] as const))(
    "%s has the options that --help has",
    async (name, words) => {
      const option = /^ {2}(?:-\w, )?(--[a-z-]+(?: <[^>]+>)?)/gm;
      const inHelp = [...(await helpOf(words)).matchAll(option)].map((match) => match[1]!);
      const section = markdownSection(readme, `### \`faultglow ${name}\``);
      const inReadme = markdownTable(section).map(([first]) => first!.replaceAll("`", ""));
      expect(inReadme.filter((word) => word.startsWith("--"))).toEqual(
        inHelp.filter((word) => word !== "--help"),
      );
    },
  );

  it("have the defaults that the code has", async () => {
    const section = markdownSection(readme, "### `faultglow find`");
    expect(section).toContain(`default ${ANALYSE_DEFAULTS.falseAlarmsPerFrame}`);
    expect(await helpOf(["find"])).toMatch(
      new RegExp(`\\(default: ${ANALYSE_DEFAULTS.falseAlarmsPerFrame}\\)`),
    );
  });

  it("name all the endings that a folder is searched for", () => {
    const line = readme.split("\n").find((text) => text.includes("files that end with")) ?? "";
    expect([...line.matchAll(/`(\.\w+)`/g)].map((match) => match[1])).toEqual([...FRAME_EXTENSIONS]);
  });
});

describe("the README", () => {
  it.each([...codeTables()])(
    "has the table under %s as the code gives it (else: npm run readme)",
    (_, table) => {
      expect(readme).toContain(`\n${table}\n`);
    },
  );

  it("states every caution of the report", () => {
    const section = markdownSection(readme, "## Safety").replace(/\s+/g, " ");
    expect(CAUTIONS.filter((caution) => !section.includes(caution))).toEqual([]);
  });

  it("shows a picture that is there and small", () => {
    const picture = /!\[[^\]]+\]\(([^)]+\.png)\)/.exec(readme)![1]!;
    expect(statSync(join(PROJECT, picture)).size).toBeLessThan(300_000);
  });

  it.each([
    ["README.md", readme],
    ["DEVELOPERS.md", developers],
    ...listFiles("src/guide", ".md").map((path): [string, string] => [path, readText(path)]),
  ] as [string, string][])("%s names scripts that there are", (_, text) => {
    const scripts = Object.keys(JSON.parse(readText("package.json")).scripts);
    const named = [...text.matchAll(/npm run ([a-z:-]+)/g)].map((match) => match[1]!);
    expect(named.filter((name) => !scripts.includes(name))).toEqual([]);
  });
});

describe("the table of stages in DEVELOPERS.md", () => {
  const rows = markdownTable(markdownSection(developers, "## The way of the data"));

  it("has folders and functions that there are", () => {
    const named = rows.flatMap(([folder, , , functions]) =>
      [...functions!.matchAll(/`(\w+)`/g)].map((match) => [folder!.replaceAll("`", ""), match[1]!] as const),
    );
    expect(named.length).toBeGreaterThan(20);
    const missing = named.filter(([folder, name]) => {
      const text = listFiles(folder, ".ts").map(readText).join("\n");
      return !new RegExp(`export (?:async )?(?:function|class|const) ${name}\\b`).test(text);
    });
    expect(missing).toEqual([]);
  });

  it("has all stages in their order", () => {
    const folders = rows.map(([folder]) => folder!.replaceAll("`", "").replace("src/", ""));
    const stages = STAGES.filter((stage) => listFiles(`src/${stage}`, ".ts").length > 0);
    expect(folders.slice(0, stages.length)).toEqual(stages);
  });
});

describe("scripts", () => {
  it("are all explained in DEVELOPERS.md", () => {
    const scripts = Object.keys(JSON.parse(readText("package.json")).scripts);
    // npm runs these by itself, before others.
    const own = scripts.filter((name) => !name.startsWith("pre"));
    expect(own.filter((name) => !new RegExp(`npm (?:run )?${name}\\b`).test(developers))).toEqual([]);
  });

  it("packages are all in the table of DEVELOPERS.md, with reason and licence as installed", () => {
    const manifest = JSON.parse(readText("package.json"));
    const names = Object.keys({ ...manifest.dependencies, ...manifest.devDependencies }).sort();
    const rows = markdownTable(markdownSection(developers, "## Packages"));
    const licences = names.map((name) => JSON.parse(readText(`node_modules/${name}/package.json`)).license);
    expect(rows.map(([name, , licence]) => [name!.replaceAll("`", ""), licence]).sort()).toEqual(
      names.map((name, i) => [name, licences[i]]),
    );
    expect(rows.filter(([, reason]) => reason!.length < 15)).toEqual([]);
  });
});

describe("the README's commands", () => {
  const steps = tutorialSteps(readme);
  let runs: StepRun[] = [];
  // Some thirty commands, one after the other, as a reader types them.
  beforeAll(async () => {
    runs = await runTutorial(steps);
  }, 300_000);

  it("are all found: as many as there are lines that begin with npx faultglow", () => {
    expect(steps.length).toBeGreaterThan(4);
    const commands = steps.flatMap((step) => step.commands);
    expect(commands.length).toBe(readme.match(/^npx faultglow/gm)!.length);
  });

  it.each(steps.map((step, k) => [step.commands.map((words) => words.join(" ")).join("; "), k] as const))(
    "%s: runs, and prints what is shown (else: npm run readme)",
    (_, k) => {
      const { shown } = steps[k]!;
      expect(runs[k]!.status).toBe(shown?.startsWith("E_") === true ? 2 : 0);
      if (shown !== null) expect(runs[k]!.shown).toBe(shown);
    },
  );
});

describe("the README's examples", () => {
  const json = [...readme.matchAll(/```json\n([^`]+)```/g)].map((match) => JSON.parse(match[1]!));

  it("of files are read without an error or a note", () => {
    const kinds = json.map(({ kind }) => kind.replace("faultglow/", ""));
    expect(kinds).toEqual(["scale", "scale", "board", "view"]);
    for (const example of json) {
      if (example.kind === "faultglow/scale") readScaleObject(example, { file: "README.md" });
      else if (example.kind === "faultglow/board")
        expect(parseBoardMap(example, "README.md").notes).toEqual([]);
      else {
        const { view, notes } = parseView(example, "README.md");
        expect(notes).toEqual([]);
        expect(placeView(view).model).toBe("homography");
      }
    }
  });

  it("of the library runs, and finds the part that was made to heat", () => {
    const [, code] = /```js\n([^`]+(?:`[^`\n]+`[^`]*)*)```/.exec(readme)!;
    const library = pathToFileURL(join(PROJECT, "dist/index.js")).href;
    const folder = mkdtempSync(join(tmpdir(), "faultglow-example-"));
    try {
      symlinkSync(join(PROJECT, "sample-frames"), join(folder, "sample-frames"));
      writeFileSync(join(folder, "example.mjs"), code!.replace('"faultglow"', JSON.stringify(library)));
      const printed = execFileSync(process.execPath, ["example.mjs"], { cwd: folder, encoding: "utf8" });
      const { sources } = JSON.parse(readText("sample-frames/attempt-1/truth.json"));
      expect(printed).toBe(`${sources.find((source: { fault: boolean }) => source.fault).ref}\n`);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
