// `npm run readme`: writes the README's tables of codes, the output of its commands and the page of constants anew.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { constantsPage } from "./constants.js";
import { PROJECT, readText } from "./project.js";
import { codeTables, replaceTable, runTutorial, tutorialSteps } from "./readme.js";

writeFileSync(join(PROJECT, "src/guide/constants.md"), constantsPage());
let readme = readText("README.md");
for (const [heading, text] of codeTables()) readme = replaceTable(readme, heading, text);
// From the last to the first, so that the places of those before stay what they are.
const steps = tutorialSteps(readme);
const runs = await runTutorial(steps);
for (let k = steps.length - 1; k >= 0; k--) {
  const { shown, start, end } = steps[k]!;
  if (shown !== null) readme = readme.slice(0, start) + runs[k]!.shown + readme.slice(end);
}
writeFileSync(join(PROJECT, "README.md"), readme);
