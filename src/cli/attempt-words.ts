// cli: options that say what was so at the bench, for the commands that add attempts → what is kept of them.
import type { Command } from "commander";
import type { AttemptOptions, Conditions } from "../job/attempt-schema.js";
import { type FrameWords, scaleOf } from "./frame-options.js";
import { numberOption } from "./number-option.js";

/** What is known at the bench beside the frames, as it was given. */
export interface ConditionWords {
  readonly limit?: number;
  readonly rail?: string;
  readonly connected?: readonly string[];
  readonly healthy?: boolean;
  readonly remark?: string;
}

/** Add the options for what is known at the bench. */
export function addConditionOptions(command: Command): Command {
  return command
    .option(
      "--limit <A>",
      "limit that the supply was set to",
      numberOption("--limit", { what: "amperes", above: 0 }),
    )
    .option("--rail <NET>", "rail or net that was fed")
    .option("--connected <WHAT...>", "what was connected")
    .option("--healthy", "these are frames of a good board of the same map, taken to know what is normal")
    .option("--remark <TEXT>", "anything else");
}

/** Options of the analysis, as an attempt keeps them. */
export function attemptOptions(words: FrameWords): AttemptOptions {
  return {
    scale: scaleOf(words) ?? null,
    unit: words.unit ?? null,
    rateHz: words.rate ?? null,
    ...(words.after === undefined ? {} : { afterS: words.after }),
    cycleS: words.cycle ?? null,
    falseAlarmsPerFrame: words.falseAlarms ?? null,
  };
}

/** What was so at the bench, as an attempt keeps it. */
export function attemptConditions(words: ConditionWords & Pick<FrameWords, "volts" | "amps">): Conditions {
  return {
    volts: words.volts ?? null,
    amps: words.amps ?? null,
    limitA: words.limit ?? null,
    rail: words.rail ?? null,
    connected: [...(words.connected ?? [])],
    remark: words.remark ?? null,
    healthy: words.healthy === true,
  };
}
