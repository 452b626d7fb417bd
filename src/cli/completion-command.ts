// cli: the words of `faultglow completion` → a script that completes the commands and options in a shell.
import { Argument, Command } from "commander";
import type { CommandOutput } from "./command-output.js";
import { commandTree } from "./command-tree.js";

const SHELLS = ["bash", "zsh", "fish"] as const;

/** Describe `completion`. The script is made of the commands as they are described to the parser, so that it can't lag
 *  behind them. */
export function completionCommand(output: CommandOutput): Command {
  const command = new Command("completion")
    .summary("print a script that completes commands, options and files in a shell")
    .description(
      "Print a script that completes the commands of faultglow, their options and files at the TAB key.",
    )
    .addArgument(new Argument("<SHELL>", "the shell").choices(SHELLS))
    .addHelpText(
      "after",
      `
Once for good (faultglow has to be on your search path, as after npm install -g):
  bash:  faultglow completion bash >> ~/.bashrc
  zsh:   faultglow completion zsh >> ~/.zshrc      (after the line with compinit)
  fish:  faultglow completion fish > ~/.config/fish/completions/faultglow.fish
`,
    );
  return command.action(async (shell: (typeof SHELLS)[number]) => {
    const tree = commandTree(command.parent!);
    const { writeCompletion } = await import("./write-completion.js");
    await output.result(writeCompletion(shell, tree));
  });
}
