// cli: findings or a comparison → the verdict alone, for `--quiet`, and what it stands on.
import type { Findings } from "../findings/findings-schema.js";
import { visibleText } from "../report/visible-text.js";
import type { CommandOutput } from "./command-output.js";

/** Print the verdict, and warnings on stderr: whoever goes by the verdict alone has to know what it stands on. */
export async function printVerdict(
  { verdict, notes }: Pick<Findings, "verdict" | "notes">,
  output: CommandOutput,
): Promise<void> {
  await output.result(`${visibleText(verdict)}\n`);
  for (const { severity, text } of notes) {
    if (severity === "warning") await output.remark(`Warning: ${visibleText(text)}\n`);
  }
}
