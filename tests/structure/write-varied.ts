// Puts what varying constants gave into the page of constants: `npx tsx tests/structure/write-varied.ts [--add] FILE
// [words]`, FILE being the output of `npm run evaluate -- --vary`, words on its run; then `npm run readme` writes the
// sentences of the rows. With --add the tables that the page has stay: for constants of which those tell nothing,
// varied on other sources.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { readVaried } from "../evaluate/varied/print-varied.js";
import { constantsPage } from "./constants.js";
import { PROJECT } from "./project.js";
import { addVaried, CONSTANTS_PAGE } from "./varied.js";

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { add: { type: "boolean", default: false } },
});
const [file, ...words] = positionals;
if (file === undefined)
  throw new Error(
    "name the file with what npm run evaluate -- --vary printed, and words on the run if need be",
  );
// npm says above what it runs.
const printed = readFileSync(file, "utf8")
  .replace(/^(?:> .*\n|\n)+/, "")
  .trimEnd();
if (readVaried(printed).length === 0) throw new Error(`${file} holds no table of variations`);
const said = words.length === 0 ? "" : `${words.join(" ")}\n\n`;
const block = addVaried(`${said}\`\`\`text\n${printed}\n\`\`\``, values.add);
writeFileSync(join(PROJECT, CONSTANTS_PAGE), constantsPage(block));
