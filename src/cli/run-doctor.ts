// cli: the options of `doctor` → lines that say whether this machine is fit.
import { ToolError } from "../core/errors.js";
import { visibleText } from "../report/visible-text.js";
import { checkMachine } from "./check-machine.js";
import type { CommandOutput } from "./command-output.js";
import type { DoctorWords } from "./doctor-command.js";
import type { MachineLine } from "./machine-line.js";

/** Look at the machine and say what was found.
 *  @throws ToolError E_MACHINE if something needed is not ok, after all lines were printed. */
export async function runDoctor(words: DoctorWords, output: CommandOutput): Promise<void> {
  const lines = await checkMachine({ jobs: words.jobs, port: words.port });
  const bad = lines.filter(({ state }) => state === "not ok");
  const doubtful = lines.filter(({ state }) => state === "look");
  if (words.json === true) {
    await output.result(`${JSON.stringify({ fit: bad.length === 0, lines }, null, 2)}\n`);
  } else {
    const shown = words.quiet === true ? bad : lines;
    if (shown.length > 0) await output.result(`${lineTexts(shown, output).join("\n")}\n`);
    if (words.quiet !== true && bad.length === 0) {
      const more = doubtful.length === 0 ? "" : ", but look at the lines that say so";
      await output.result(`\nThis machine is fit for faultglow${more}.\n`);
    }
  }
  if (bad.length === 0) return;
  throw new ToolError("E_MACHINE", {
    problem: `this machine is not fit yet: ${bad.map(({ what }) => what).join(", ")}`,
    fix: "Do what the lines marked not ok say, then run faultglow doctor again",
  });
}

function lineTexts(lines: readonly MachineLine[], { styles }: CommandOutput): string[] {
  const width = Math.max(...lines.map(({ what }) => what.length));
  return lines.flatMap(({ what, state, found, fix }) => {
    const mark = state.padEnd(6);
    const head = `${state === "ok" ? mark : styles.warn(mark)}  ${what.padEnd(width)}  ${visibleText(found)}`;
    return fix === null ? [head] : [head, `${" ".repeat(width + 10)}${visibleText(fix)}.`];
  });
}
