// bench: a process → the most memory that it held, which it says at its end.

/** Said by a process at its end, KB: what is to be loaded into it. */
export const TELL_PEAK = `process.on("exit", () => process.stderr.write("\\npeak " + process.resourceUsage().maxRSS + "\\n"));`;

/** The peak in what a process said, MB. */
export function toldPeakMb(stderr: string): number {
  return Number(/^peak (\d+)$/m.exec(stderr)![1]) / 1024;
}
