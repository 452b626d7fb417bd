// `npm run schemas`: writes the JSON Schemas, and the forms of results, anew.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { FORMS_FILE, makeJsonSchemas, makeResultForms, SCHEMA_FOLDER } from "./json-schemas.js";
import { PROJECT } from "./project.js";

mkdirSync(join(PROJECT, SCHEMA_FOLDER), { recursive: true });
for (const [name, text] of makeJsonSchemas()) {
  writeFileSync(join(PROJECT, SCHEMA_FOLDER, name), text);
  process.stdout.write(`${SCHEMA_FOLDER}/${name}\n`);
}
writeFileSync(join(PROJECT, FORMS_FILE), makeResultForms());
process.stdout.write(`${FORMS_FILE}\n`);
