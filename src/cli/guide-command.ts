// cli: the words of `faultglow guide` → a page of the guide; reading it is loaded only when it is asked for.
import { Argument, Command } from "commander";
import type { CommandOutput } from "./command-output.js";

/** Pages of the guide: files of `src/guide` by name, in the order in which they are met. */
export const GUIDE_PAGES = Object.freeze({
  "taking-frames": "how to take frames that show the fault, and what to be careful with",
  troubleshooting: "what to do when the answer is not what it should be, by what you see",
  method: "equations, assumptions, constants with their sources, how exact it is, what would make it wrong",
  constants: "every number that the method rests on, with its reason or source",
  changelog: "what changed from version to version",
});

export type GuidePage = keyof typeof GUIDE_PAGES;

/** Describe `guide`. */
export function guideCommand(output: CommandOutput): Command {
  const names = Object.keys(GUIDE_PAGES);
  const width = Math.max(...names.map((name) => name.length));
  const list = Object.entries(GUIDE_PAGES).map(([name, says]) => `  ${name.padEnd(width)}  ${says}`);
  return new Command("guide")
    .summary("print a page of the guide: taking frames, troubleshooting, method")
    .description("Print a page of the guide; without a name, the list of pages.")
    .addArgument(new Argument("[PAGE]", "name of the page").choices(names))
    .addHelpText("after", `\nPages:\n${list.join("\n")}\n`)
    .action(async (page: GuidePage | undefined) => {
      if (page === undefined) {
        await output.result(`${list.join("\n")}\n\nfaultglow guide PAGE prints one.\n`);
        return;
      }
      const { readGuide } = await import("./read-guide.js");
      await output.result(await readGuide(page));
    });
}
