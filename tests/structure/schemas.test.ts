// The JSON Schemas that lie in the project are those of the code.
import { describe, expect, it } from "vitest";
import { FORMS_FILE, makeJsonSchemas, makeResultForms, SCHEMA_FOLDER } from "./json-schemas.js";
import { listFiles, readText } from "./project.js";

const schemas = makeJsonSchemas();

describe("JSON Schemas", () => {
  it("lie in the project, one for each kind of file, and nothing else beside them", () => {
    const names = [...schemas.keys()].map((name) => `${SCHEMA_FOLDER}/${name}`);
    expect(listFiles(SCHEMA_FOLDER, "")).toEqual(names.sort());
  });

  it.each([...schemas])("%s is what the code gives (else: npm run schemas)", (name, text) => {
    expect(readText(`${SCHEMA_FOLDER}/${name}`)).toBe(text);
  });

  it.each([...schemas])("%s asks for its kind and version first", (name, text) => {
    const schema = JSON.parse(text);
    for (const form of schema.anyOf ?? [schema]) {
      expect(form.properties.kind.const).toBe(`faultglow/${name.replace(".json", "")}`);
      expect(form.properties.version.const).toBe(1);
      expect(form.required).toEqual(expect.arrayContaining(["kind", "version"]));
    }
  });

  it("let unknown keys pass, as the readers do with a note", () => {
    for (const text of schemas.values()) expect(text).not.toContain('additionalProperties": false');
  });
});

it("the forms of results are what the code gives (else: npm run schemas)", () => {
  expect(readText(FORMS_FILE)).toBe(makeResultForms());
});
