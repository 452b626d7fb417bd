// cli: a shell and the tree of commands → the script that completes them there.
import { bashCompletion } from "./bash-completion.js";
import type { CommandNode } from "./command-tree.js";
import { fishCompletion } from "./fish-completion.js";
import { zshCompletion } from "./zsh-completion.js";

const WRITERS = Object.freeze({ bash: bashCompletion, zsh: zshCompletion, fish: fishCompletion });

/** Write the script of a shell. */
export function writeCompletion(shell: keyof typeof WRITERS, tree: CommandNode): string {
  return WRITERS[shell](tree);
}
