// `npm run readme`: writes the README's tables of codes and the output of its commands anew.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { PROJECT, readText } from "./project.js";
import { codeTables, replaceTable, runStep, shownText, tutorialSteps } from "./readme.js";

let readme = readText("README.md");
for (const [heading, text] of codeTables()) readme = replaceTable(readme, heading, text);
// From the last to the first, so that the places of those before stay what they are.
for (const step of tutorialSteps(readme).reverse()) {
  if (step.shown === null) continue;
  readme = readme.slice(0, step.start) + shownText(await runStep(step)) + readme.slice(step.end);
}
writeFileSync(join(PROJECT, "README.md"), readme);
