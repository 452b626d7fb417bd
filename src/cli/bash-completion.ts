// cli: the tree of commands → a script that completes them in bash.
import { type CommandNode, flatTree, type OptionNode, type ValueKind } from "./command-tree.js";
import { shellWord } from "./shell-word.js";

/** Write the script. It needs bash 3.2 or newer and nothing else. */
export function bashCompletion(tree: CommandNode): string {
  const nodes = flatTree(tree);
  const within = nodes.map(
    (node) =>
      `    ${shellWord(node.path)}) commands=${shellWord(node.commands.map(({ name }) => name).join(" "))}; ` +
      `options=${shellWord(node.options.flatMap(({ names }) => names).join(" "))} ;;`,
  );
  const values = nodes.flatMap((node) =>
    node.options.filter(({ value }) => value !== null).map((one) => optionLine(node, one)),
  );
  const words = nodes
    .filter((node) => node.words.length > 0)
    .flatMap((node) =>
      node.words.map((kind, k) => `    ${shellWord(`${node.path}:${k}`)}) kind=${kindWord(kind)} ;;`),
    );
  const last = nodes
    .filter((node) => node.words.length > 0)
    .map((node) => `    ${shellWord(node.path)}:*) kind=${kindWord(node.words.at(-1)!)} ;;`);
  return `# Completion of faultglow for bash; made by: faultglow completion bash
_faultglow() {
  local cur="\${COMP_WORDS[COMP_CWORD]}" path="" open="" many="" kind="" count=0 i word commands options
  _faultglow_within
  for ((i = 1; i < COMP_CWORD; i++)); do
    word="\${COMP_WORDS[i]}"
    if [[ $word == -* ]]; then
      open="" many="" kind=""
      _faultglow_value "$path:$word" && open="$kind"
    elif [[ -n $open ]]; then
      [[ -n $many ]] || open=""
    elif [[ " $commands " == *" $word "* ]]; then
      path="\${path:+$path }$word"
      _faultglow_within
    else
      ((count++))
    fi
  done
  COMPREPLY=()
  if [[ $cur == -* ]]; then
    COMPREPLY=($(compgen -W "$options" -- "$cur"))
    return
  fi
  if [[ -n $open ]]; then
    kind="$open"
  elif [[ -n $commands ]]; then
    COMPREPLY=($(compgen -W "$commands" -- "$cur"))
    return
  else
    kind="nothing"
    _faultglow_word "$path:$count"
  fi
  local IFS=$'\\n'
  case "$kind" in
    files) COMPREPLY=($(compgen -f -- "$cur")) ;;
    folders) COMPREPLY=($(compgen -d -- "$cur")) ;;
    nothing) ;;
    *) IFS=$' \\n'; COMPREPLY=($(compgen -W "$kind" -- "$cur")); return ;;
  esac
  compopt -o filenames 2>/dev/null
}

_faultglow_within() {
  case "$path" in
${within.join("\n")}
  esac
}

_faultglow_value() {
  case "$1" in
${values.join("\n")}
    *) return 1 ;;
  esac
}

_faultglow_word() {
  case "$1" in
${[...words, ...last].join("\n")}
  esac
}

complete -F _faultglow faultglow
`;
}

function optionLine({ path }: CommandNode, { names, value, many }: OptionNode): string {
  const patterns = names.map((name) => shellWord(`${path}:${name}`)).join(" | ");
  return `    ${patterns}) kind=${kindWord(value!)}${many ? "; many=yes" : ""} ;;`;
}

function kindWord(kind: ValueKind): string {
  return typeof kind === "string" ? kind : shellWord(kind.join(" "));
}
