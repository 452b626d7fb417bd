// cli: the words of `faultglow find` → its options, checked; the work itself is loaded only when it is asked for.
import { Command, Option } from "commander";
import { ToolError } from "../core/errors.js";
import { parseScaleOption } from "../frames/parse-scale-option.js";
import type { CommandOutput } from "./command-output.js";
import { numberOption } from "./number-option.js";

/** The options of `find`, as they were given. */
export interface FindWords {
  readonly baseline: readonly string[];
  readonly powered: readonly string[];
  readonly scale?: { readonly lowC: number; readonly highC: number };
  readonly gain?: number;
  readonly offset?: number;
  readonly unit?: "C" | "F" | "K";
  readonly rate?: number;
  readonly cycle?: number | "find";
  readonly board?: string;
  readonly view?: string;
  readonly otherBaseline?: readonly string[];
  readonly otherPowered?: readonly string[];
  readonly otherView?: string;
  readonly volts?: number;
  readonly amps?: number;
  readonly falseAlarms?: number;
  readonly out?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Describe `find`. */
export function findCommand(output: CommandOutput): Command {
  const command = new Command("find")
    .summary("say which part is the source of heat")
    .description(
      "Compare frames taken before power-on with frames taken under power, and rank what heats.\n" +
        "F is a file, a folder or a glob: CSV and text matrices, 16-bit or 8-bit grey PNG, grey TIFF.",
    )
    .requiredOption("--baseline <F...>", "frames without power")
    .requiredOption(
      "--powered <F...>",
      "frames under power; several are averaged, or with --rate a burst from power-on, or with --cycle a run of switching",
    )
    .option("--scale <LO:HI>", "°C at grey 0 and at the largest grey value", (word: string) =>
      parseScaleOption(word),
    )
    .option(
      "--gain <G>",
      "temperature step of one grey level, for linear counts (kelvin × 100: --gain 0.01 --unit K)",
      gainNumber,
    )
    .option(
      "--offset <O>",
      "temperature of grey 0 (default: 0); with --gain",
      numberOption("--offset", { what: "a number" }),
    )
    .addOption(
      new Option("--unit <U>", "unit of the values in text files, and of --gain and --offset").choices([
        "C",
        "F",
        "K",
      ]),
    )
    .option(
      "--rate <HZ>",
      "frames a second of a burst",
      numberOption("--rate", { what: "a rate in Hz", above: 0 }),
    )
    .option(
      "--cycle <S>",
      "the supply went on and off while the powered frames were taken: seconds of one on and off together, or `find` " +
        "to look for it in the frames; needs --rate",
      cycleOption,
    )
    .option("--board <F>", "board map, to name parts; needs --view")
    .option("--view <F>", "how the baseline frame sees the board")
    .option(
      "--other-baseline <F...>",
      "frames without power from another view, most of all the other side of the board; with --other-powered, " +
        "--other-view and --board; --rate and --cycle hold for both views",
    )
    .option("--other-powered <F...>", "frames under power from that view")
    .option("--other-view <F>", "how the first of the other baseline frames sees the board")
    .option(
      "--volts <V>",
      "voltage fed in; with --amps",
      numberOption("--volts", { what: "volts", above: 0 }),
    )
    .option(
      "--amps <A>",
      "current fed in; with --volts",
      numberOption("--amps", { what: "amperes", above: 0 }),
    )
    .option(
      "--false-alarms <N>",
      "hotspots by chance alone that you accept in one frame (default: 0.01)",
      numberOption("--false-alarms", { what: "a number of false alarms per frame", above: 0, atMost: 10 }),
    )
    .option(
      "--out <DIR>",
      "write report.html, findings.json and overlay.png into this folder; with another view overlay-other.png too",
    )
    .option("--json", "print the findings as JSON, and nothing else, on the standard output")
    .option("--quiet", "print the verdict alone, and errors")
    .addHelpText(
      "after",
      "\nExamples:\n" +
        "  faultglow find --baseline off.csv --powered on.csv\n" +
        "  faultglow find --baseline off/ --powered 'burst-*.png' --scale 15:45 --rate 9 \\\n" +
        "      --board board.json --view view.json --volts 1.0 --amps 0.4 --out report\n" +
        "  faultglow find --baseline top-off.csv --powered top-on.csv --board board.json --view top.json \\\n" +
        "      --other-baseline bottom-off.csv --other-powered bottom-on.csv --other-view bottom.json\n",
    );
  command.action(async (words: FindWords) => {
    checkTogether(words);
    const { runFind } = await import("./run-find.js");
    await runFind(words, output);
  });
  return command;
}

function cycleOption(word: string): number | "find" {
  if (word === "find") return word;
  return numberOption("--cycle", { what: "a period in seconds, or the word find", above: 0 })(word);
}

function gainNumber(word: string): number {
  const gain = numberOption("--gain", { what: "a number other than 0" })(word);
  if (gain !== 0) return gain;
  throw new ToolError("E_USAGE", {
    problem: `--gain needs a number other than 0, found "${word}"`,
    fix: "Give the temperature step of one grey level, such as 0.01",
  });
}

/** Refuse options that only make sense together, or not together. */
function checkTogether(words: FindWords): void {
  const has = (name: keyof FindWords): boolean => words[name] !== undefined;
  if (has("volts") !== has("amps")) {
    const [given, missing] = has("volts") ? ["--volts", "--amps"] : ["--amps", "--volts"];
    refuse(`${given} came without ${missing}, but power needs both`, `Add ${missing}, or leave both away`);
  }
  if (has("cycle") && !has("rate")) {
    refuse(
      "--cycle came without --rate, so nothing says when the frames were taken",
      "Add --rate HZ, the powered frames per second",
    );
  }
  if (has("scale") && has("gain")) {
    refuse(
      "--scale and --gain came together, but each of them alone sets the temperatures",
      "Keep one of the two",
    );
  }
  if (has("offset") && !has("gain"))
    refuse("--offset came without --gain", "Add --gain, or use --scale LO:HI");
  if (has("board") && !has("view")) {
    refuse(
      "--board came without --view, so nothing says where the board lies in the frame",
      'Write a view file and give it with --view: {"kind": "faultglow/view", "version": 1, "side": "top", ' +
        '"frame": {"width": W, "height": H}, "fiducials": [{"board": [x mm, y mm], "pixel": [x, y]}, …]} ' +
        "with two or more points that you find both on the board and in the baseline frame",
    );
  }
  if (has("view") && !has("board")) {
    refuse("--view came without --board, and alone it changes nothing", "Add --board, or leave --view away");
  }
  checkOther(words);
  for (const name of ["baseline", "powered", "otherBaseline", "otherPowered"] as const) {
    const stray = words[name]?.find((word) => word.startsWith("--"));
    if (stray !== undefined) {
      refuse(
        `${optionOf(name)} needs frames, found the option ${stray}`,
        `Name a file, folder or glob after ${optionOf(name)}`,
      );
    }
  }
}

/** The second view is known by its frames, its view and the board, or not at all. */
function checkOther(words: FindWords): void {
  const others = ["otherBaseline", "otherPowered", "otherView"] as const;
  const given = others.filter((name) => words[name] !== undefined);
  if (given.length === 0) return;
  const missing = [...others, "board" as const].filter((name) => words[name] === undefined);
  if (missing.length === 0) return;
  const [list, lacking] = [given, missing].map((names) => names.map(optionOf).join(" and "));
  refuse(
    `${list} came without ${lacking}, but a second view is joined to the first by all of them`,
    `Add ${lacking}, or leave ${list} away`,
  );
}

function optionOf(name: string): string {
  return `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
}

function refuse(problem: string, fix: string): never {
  throw new ToolError("E_USAGE", { problem, fix });
}
