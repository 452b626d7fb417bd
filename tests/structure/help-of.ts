// tests: words of a command → the help that it prints.
import { main } from "../../src/cli/main.js";
import { fakeSurroundings } from "../unit/cli/fake-surroundings.js";

/** The help of a command. */
export async function helpOf(words: readonly string[]): Promise<string> {
  const surroundings = fakeSurroundings();
  await main([...words, "--help"], surroundings);
  return surroundings.printed().out;
}
