// page: what the server noted of lines that were added → said, and shown until it is closed.
import type { SayAnswer } from "../../api/jobs-schema.js";
import { announce } from "../state/announce.js";

/** Say what looks like a slip in a line. @returns false where nothing does. */
export function saySlips({ notes }: Pick<SayAnswer, "notes">): boolean {
  if (notes.length > 0) announce(notes.map(({ text }) => text).join(" "), true);
  return notes.length > 0;
}
