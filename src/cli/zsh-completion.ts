// cli: the tree of commands → a script that completes them in zsh, with what each word is for.
import { type CommandNode, flatTree, type OptionNode, type ValueKind } from "./command-tree.js";
import { shellWord } from "./shell-word.js";

/** Write the script, to be read by zsh itself or kept as `_faultglow` in a folder of its search path. */
export function zshCompletion(tree: CommandNode): string {
  const functions = flatTree(tree).map(commandFunction);
  return `#compdef faultglow
# Completion of faultglow for zsh; made by: faultglow completion zsh
# _arguments offers no option after the values of one that takes many, so those are passed over with their values.
_faultglow_pass() {
  [[ $PREFIX == -* ]] || return 0
  local k many=""
  local -a kept
  for ((k = 1; k < CURRENT; k++)); do
    if [[ $words[k] == -* ]]; then
      (($argv[(Ie)$words[k]])) && many=yes || many=""
    fi
    [[ -n $many ]] || kept+=("$words[k]")
  done
  words=("\${kept[@]}" "\${(@)words[CURRENT,-1]}")
  CURRENT=$(($#kept + 1))
  compstate[restore]=""
}

${functions.join("\n")}
if [[ $funcstack[1] == _faultglow ]]; then
  _faultglow "$@"
else
  compdef _faultglow faultglow
fi
`;
}

function nameOf(path: string): string {
  return ["_faultglow", ...path.split(" ").filter(Boolean)].join("_");
}

function commandFunction(node: CommandNode): string {
  const options = node.options.flatMap(optionSpecs);
  const words =
    node.commands.length > 0
      ? [shellWord("1: :->command"), shellWord("*:: :->rest")]
      : node.words.map((kind, k) =>
          shellWord(`${k === node.words.length - 1 ? "*" : k + 1}: :${actionOf(kind)}`),
        );
  const specs = [...options, ...words].map((spec) => `    ${spec}`).join(" \\\n");
  const many = node.options.filter((option) => option.many).flatMap(({ names }) => names);
  const pass = many.length === 0 ? "" : `  _faultglow_pass ${many.join(" ")}\n`;
  if (node.commands.length === 0) {
    return `${nameOf(node.path)}() {\n${pass}  _arguments -s \\\n${specs}\n}\n`;
  }
  const listed = node.commands.map((one) => `        ${shellWord(`${one.name}:${one.says}`)}`).join("\n");
  const branches = node.commands.map((one) => `        ${one.name}) ${nameOf(one.path)} ;;`).join("\n");
  return `${nameOf(node.path)}() {
  local state line
  local -a commands
  _arguments -C \\
${specs}
  case $state in
    command)
      commands=(
${listed}
      )
      _describe -t commands command commands
      ;;
    rest)
      case $line[1] in
${branches}
      esac
      ;;
  esac
}
`;
}

function optionSpecs({ names, says, value, many }: OptionNode): string[] {
  const text = says.replace(/[[\]:\\]/g, (sign) => `\\${sign}`);
  const all = `(${names.join(" ")})`;
  return names.map((name) => {
    if (value === null) return shellWord(`${all}${name}[${text}]`);
    // "*" twice: the option may come again, and takes all words up to the next option.
    return many
      ? shellWord(`*${name}[${text}]:*-*: :${actionOf(value)}`)
      : shellWord(`${all}${name}[${text}]: :${actionOf(value)}`);
  });
}

function actionOf(kind: ValueKind): string {
  if (kind === "files") return "_files";
  if (kind === "folders") return "_files -/";
  return kind === "nothing" ? "" : `(${kind.join(" ")})`;
}
