// cli: the tree of commands → a script that completes them in fish, with what each word is for.
import { type CommandNode, flatTree, type OptionNode, type ValueKind } from "./command-tree.js";

/** Write the script. */
export function fishCompletion(tree: CommandNode): string {
  const nodes = flatTree(tree);
  const above = nodes.filter(({ commands }) => commands.length > 0);
  const lines = nodes.flatMap((node) => [
    ...node.commands.map((one) => complete(node.path, `-f -a ${quoted(one.name)} -d ${quoted(one.says)}`)),
    ...node.options.map((option) => complete(node.path, optionWords(option))),
    ...laterValues(node),
    ...wordLines(node),
  ]);
  return `# Completion of faultglow for fish; made by: faultglow completion fish
function __faultglow_at --description 'true where the words before the cursor lead to this command'
    set -l path ''
    set -l words (commandline -opc)
    for word in $words[2..]
        set -l longer (string trim -- "$path $word")
        if contains -- "$longer" ${nodes
          .slice(1)
          .map(({ path }) => quoted(path))
          .join(" ")}
            set path $longer
        end
    end
    test "$path" = "$argv"
end

function __faultglow_after --description 'true where the last option before the cursor is one of these'
    set -l options (string match -- '-*' (commandline -opc))
    contains -- "$options[-1]" $argv
end

complete -c faultglow -e
complete -c faultglow -f
${lines.join("\n")}
# Where a command has to follow, no file fits: ${above.map(({ name }) => name).join(", ")}.
`;
}

function complete(path: string, words: string): string {
  return `complete -c faultglow -n ${quoted(`__faultglow_at ${path}`.trim())} ${words}`;
}

function optionWords({ names, says, value }: OptionNode): string {
  const flags = names.map((name) => (name.startsWith("--") ? `-l ${name.slice(2)}` : `-s ${name.slice(1)}`));
  return [...flags, ...(value === null ? [] : valueWords(value, "-r", "-x")), "-d", quoted(says)].join(" ");
}

/** An option that takes several values is followed by more than the one that fish knows of. */
function laterValues({ path, options }: CommandNode): string[] {
  return (["files", "folders"] as const).flatMap((kind) => {
    const names = options
      .filter(({ many, value }) => many && value === kind)
      .flatMap((option) => option.names);
    if (names.length === 0) return [];
    const condition = `__faultglow_at ${path}; and __faultglow_after ${names.join(" ")}`;
    return [`complete -c faultglow -n ${quoted(condition)} ${valueWords(kind, "", "-f").join(" ")}`];
  });
}

/** Words of a command itself; where the first and the last differ, both are offered. */
function wordLines({ path, words }: CommandNode): string[] {
  const [kind] = words.filter((one) => one !== "nothing");
  return kind === undefined ? [] : [complete(path, valueWords(kind, "", "-f").join(" "))];
}

function valueWords(kind: ValueKind, open: string, closed: string): string[] {
  if (kind === "files") return [open, "-F"].filter(Boolean);
  if (kind === "folders") return [closed, "-a", quoted("(__fish_complete_directories)")];
  return kind === "nothing" ? [closed] : [closed, "-a", quoted(kind.join(" "))];
}

function quoted(text: string): string {
  return `'${text.replaceAll("\\", "\\\\").replaceAll("'", "\\'")}'`;
}
