// page: lines that were added, and what the server noted of them → said.
import type { SayAnswer } from "../../api/jobs-schema.js";
import { announce } from "../state/announce.js";

/** Say what was done, and what looks like a slip in it, once for all lines that have the same; with a slip it is shown
 *  until it is closed.
 *  @param done sentences; "": what was done is seen without words.
 */
export function sayDone(done: string, { notes }: Pick<SayAnswer, "notes">): void {
  const slips = new Set(notes.map(({ text }) => text));
  const words = [...(done === "" ? [] : [done]), ...slips].join(" ");
  if (words !== "") announce(words, slips.size > 0);
}
