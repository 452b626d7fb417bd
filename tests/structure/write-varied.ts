// Puts what varying constants gave into the page of constants: `npx tsx tests/structure/write-varied.ts FILE`, FILE being the
// output of `npm run evaluate -- --vary`; then `npm run readme` writes the sentences of the rows.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { readVaried } from "../evaluate/varied/print-varied.js";
import { constantsPage } from "./constants.js";
import { PROJECT } from "./project.js";
import { CONSTANTS_PAGE } from "./varied.js";

const [file, ...words] = process.argv.slice(2);
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
const block = `<!-- varied -->\n${said}\`\`\`text\n${printed}\n\`\`\`\n<!-- /varied -->`;
writeFileSync(join(PROJECT, CONSTANTS_PAGE), constantsPage(block));
