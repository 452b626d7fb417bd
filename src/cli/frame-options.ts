// cli: the options that say which frames are analysed and what was so at the bench, for every command that takes
// frames.
import { type Command, Option } from "commander";
import { ToolError } from "../core/errors.js";
import { linearScale, parseScaleOption } from "../frames/parse-scale-option.js";
import type { Scale } from "../frames/scale.js";
import { numberOption } from "./number-option.js";
import { refuseWords } from "./refuse-words.js";

/** A day after power-on every board has long come to rest. */
const LONGEST_S = 86_400;

/** The options of frames, as they were given. */
export interface FrameWords {
  readonly baseline: readonly string[];
  readonly powered: readonly string[];
  readonly scale?: { readonly lowC: number; readonly highC: number };
  readonly gain?: number;
  readonly offset?: number;
  readonly unit?: "C" | "F" | "K";
  readonly rate?: number;
  readonly after?: number;
  readonly cycle?: number | "find";
  readonly board?: string;
  readonly view?: string;
  readonly otherBaseline?: readonly string[];
  readonly otherPowered?: readonly string[];
  readonly otherView?: string;
  readonly volts?: number;
  readonly amps?: number;
  readonly falseAlarms?: number;
}

/** `find` knows nothing but its options; an attempt has the job's boards, and keeps what is known of the supply. */
export type FrameUse = "find" | "attempt";

/** What differs in the words of the options. */
const TEXTS = Object.freeze({
  find: {
    board: "board map, to name parts; needs --view",
    volts: "voltage fed in; with --amps",
    amps: "current fed in; with --volts",
  },
  attempt: {
    board:
      "name of a board of the job, or a map; needs --view; may be left out where the job has exactly one board",
    volts: "voltage fed in",
    amps: "current fed in",
  },
});

/** Add the options of frames to a command. */
export function addFrameOptions(command: Command, use: FrameUse): Command {
  const texts = TEXTS[use];
  command
    .requiredOption("--baseline <F...>", "frames without power")
    .requiredOption(
      "--powered <F...>",
      "frames under power; several are averaged, or with --rate a burst from power-on, or with --cycle a run of switching",
    );
  addScaleOptions(command)
    .option(
      "--rate <HZ>",
      "frames a second of a burst",
      numberOption("--rate", { what: "a rate in Hz", above: 0 }),
    )
    .option(
      "--after <S>",
      "seconds from power-on to the powered frames, where they are no burst: " +
        "with a board map watts are known better by it, best where that tells plate or thickness",
      numberOption("--after", { what: "a time in seconds", above: 0, atMost: LONGEST_S }),
    )
    .option(
      "--cycle <S>",
      "the supply went on and off while the powered frames were taken: seconds of one on and off together, or `find` " +
        "to look for it in the frames; needs --rate",
      cycleOption,
    )
    .option("--board <F>", texts.board)
    .option("--view <F>", "how the baseline frame sees the board")
    .option(
      "--other-baseline <F...>",
      "frames without power from another view, most of all the other side of the board; with --other-powered, " +
        "--other-view and --board; --rate and --cycle hold for both views",
    )
    .option("--other-powered <F...>", "frames under power from that view")
    .option("--other-view <F>", "how the first of the other baseline frames sees the board")
    .option("--volts <V>", texts.volts, numberOption("--volts", { what: "volts", above: 0 }))
    .option("--amps <A>", texts.amps, numberOption("--amps", { what: "amperes", above: 0 }))
    .option(
      "--false-alarms <N>",
      "hotspots by chance alone that you accept in one frame (default: 0.01)",
      numberOption("--false-alarms", { what: "a number of false alarms per frame", above: 0, atMost: 10 }),
    );
  return command;
}

/** Add the options that give levels their temperatures. */
export function addScaleOptions(command: Command): Command {
  return command
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
    );
}

/** The options of temperatures, as they were given. */
export type ScaleWords = Pick<FrameWords, "scale" | "gain" | "offset" | "unit">;

/** The scale that the options give, in °C; undefined if they give none. */
export function scaleOf(words: ScaleWords): Scale | undefined {
  if (words.scale !== undefined) return words.scale;
  if (words.gain === undefined) return undefined;
  const offset = words.offset ?? 0;
  if (words.unit === "K") return linearScale(words.gain, offset - 273.15);
  if (words.unit === "F") return linearScale((words.gain * 5) / 9, ((offset - 32) * 5) / 9);
  return linearScale(words.gain, offset);
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

/** Refuse options that only make sense together, or not together.
 *  @throws ToolError E_USAGE saying which.
 */
export function checkFrameWords(words: FrameWords, use: FrameUse): void {
  const has = (name: keyof FrameWords): boolean => words[name] !== undefined;
  if (use === "find" && has("volts") !== has("amps")) {
    const [given, missing] = has("volts") ? ["--volts", "--amps"] : ["--amps", "--volts"];
    refuseWords(
      `${given} came without ${missing}, but power needs both`,
      `Add ${missing}, or leave both away`,
    );
  }
  if (has("cycle") && !has("rate")) {
    refuseWords(
      "--cycle came without --rate, so nothing says when the frames were taken",
      "Add --rate HZ, the powered frames per second",
    );
  }
  if (has("after") && has("rate")) {
    refuseWords(
      "--after and --rate came together, but the frames of a burst have times of their own",
      "Leave --after away; a burst begins at power-on",
    );
  }
  checkScaleWords(words);
  if (has("board") && !has("view")) {
    refuseWords(
      "--board came without --view, so nothing says where the board lies in the frame",
      'Write a view file and give it with --view: {"kind": "faultglow/view", "version": 1, "side": "top", ' +
        '"frame": {"width": W, "height": H}, "fiducials": [{"board": [x mm, y mm], "pixel": [x, y]}, …]} ' +
        "with two or more points that you find both on the board and in the baseline frame",
    );
  }
  if (use === "find" && has("view") && !has("board")) {
    refuseWords(
      "--view came without --board, and alone it changes nothing",
      "Add --board, or leave --view away",
    );
  }
  checkOther(words, use);
  for (const name of ["baseline", "powered", "otherBaseline", "otherPowered"] as const) {
    const stray = words[name]?.find((word) => word.startsWith("--"));
    if (stray !== undefined) {
      refuseWords(
        `${optionOf(name)} needs frames, found the option ${stray}`,
        `Name a file, folder or pattern after ${optionOf(name)}`,
      );
    }
  }
}

/** Refuse temperatures of levels that are told twice or by half. A scale is in °C: with a unit beside it nobody can say
 *  what was meant: read as it stands, 60:110 °F would pass for °C.
 *  @throws ToolError E_USAGE.
 */
export function checkScaleWords({ scale, gain, offset, unit }: ScaleWords): void {
  if (scale !== undefined && gain !== undefined) {
    refuseWords(
      "--scale and --gain came together, but each of them alone sets the temperatures",
      "Keep one of the two",
    );
  }
  if (scale !== undefined && unit !== undefined && unit !== "C") {
    refuseWords(
      `--scale is in °C, and --unit ${unit} came with it`,
      `Give the two ends of the scale in °C without --unit, or, for levels that count in ${unit === "K" ? "kelvins" : "°F"}, --gain and --offset`,
    );
  }
  if (offset !== undefined && gain === undefined)
    refuseWords("--offset came without --gain", "Add --gain, or use --scale LO:HI");
}

/** The second view is known by its frames, its view and the board, or not at all. */
function checkOther(words: FrameWords, use: FrameUse): void {
  const others = ["otherBaseline", "otherPowered", "otherView"] as const;
  const given = others.filter((name) => words[name] !== undefined);
  if (given.length === 0) return;
  const first = use === "find" ? "board" : "view";
  const missing = [...others, first as "board" | "view"].filter((name) => words[name] === undefined);
  if (missing.length === 0) return;
  const [list, lacking] = [given, missing].map((names) => names.map(optionOf).join(" and "));
  refuseWords(
    `${list} came without ${lacking}, but a second view is joined to the first by all of them`,
    `Add ${lacking}, or leave ${list} away`,
  );
}

function optionOf(name: string): string {
  return `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
}
