// `npm run schemas`: writes the JSON Schemas anew.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { makeJsonSchemas, SCHEMA_FOLDER } from "./json-schemas.js";
import { PROJECT } from "./project.js";

mkdirSync(join(PROJECT, SCHEMA_FOLDER), { recursive: true });
for (const [name, text] of makeJsonSchemas()) {
  writeFileSync(join(PROJECT, SCHEMA_FOLDER, name), text);
  process.stdout.write(`${SCHEMA_FOLDER}/${name}\n`);
}
