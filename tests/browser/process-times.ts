// A process → the processor time that it and those it started have had, by what Linux says of them.
import { readdirSync, readFileSync } from "node:fs";

/** Linux counts in hundredths of a second (sysconf _SC_CLK_TCK on all its platforms of today). */
const TICKS_PER_S = 100;

/** Seconds of processor of a process and its children that are running now, all cores together; null on other
 *  systems. */
export function cpuSeconds(pid: number): number | null {
  let ticks = 0;
  try {
    for (const name of readdirSync("/proc")) {
      if (!/^\d+$/.test(name)) continue;
      const times = timesOf(name);
      if (times !== null && (name === String(pid) || times.parent === pid)) ticks += times.ticks;
    }
  } catch {
    return null;
  }
  return ticks / TICKS_PER_S;
}

/** Fields 4, 14 and 15 of /proc/PID/stat (man 5 proc); the second, in brackets, may hold blanks. */
function timesOf(pid: string): { parent: number; ticks: number } | null {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, "latin1");
    const fields = text.slice(text.lastIndexOf(")") + 2).split(" ");
    return { parent: Number(fields[1]), ticks: Number(fields[11]) + Number(fields[12]) };
  } catch {
    // It has ended meanwhile.
    return null;
  }
}
