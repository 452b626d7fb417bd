// Puts what an evaluation printed into the page of the method: `npx tsx tests/structure/write-evaluation.ts FILE`, FILE
// being the output of `npm run evaluate`.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { PROJECT, readText } from "./project.js";

const [file, ...words] = process.argv.slice(2);
if (file === undefined)
  throw new Error("name the file with what npm run evaluate printed, and words on the run if need be");
// npm says above what it runs.
const printed = readFileSync(file, "utf8")
  .replace(/^(?:> .*\n|\n)+/, "")
  .trimEnd();
const page = "src/guide/method.md";
const block = /(<!-- evaluation -->\n)[\s\S]*?(<!-- \/evaluation -->)/;
const text = readText(page);
if (!block.test(text)) throw new Error(`${page} has no place for an evaluation`);
const said = words.length === 0 ? "" : `\n${words.join(" ")}\n`;
writeFileSync(
  join(PROJECT, page),
  text.replace(
    block,
    (_, open: string, close: string) => `${open}${said}\n\`\`\`text\n${printed}\n\`\`\`\n\n${close}`,
  ),
);
