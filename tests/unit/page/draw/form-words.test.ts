// Sentences of the import speak of the form in the page, not of options of the command.
import { describe, expect, it } from "vitest";
import { ToolError } from "../../../../src/core/errors.js";
import { importBoard } from "../../../../src/import/import-board.js";
import type { ImportOptions } from "../../../../src/import/import-options.js";
import { formWords } from "../../../../src/page/draw/form-words.js";

/** What an import says of a file: its notes, or its error. */
function saidOf(text: string, name: string, options: ImportOptions = {}): string {
  try {
    return importBoard(new TextEncoder().encode(text), name, options)
      .notes.map((note) => note.text)
      .join("\n");
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    return error.message;
  }
}

const head = "ref,x,y,rotation,side,package\n";
const sentences = {
  "unit and outline": saidOf(`${head}R1,4,3,0,top,0805\n`, "a.csv"),
  package: saidOf(`${head}Q1,4,3,0,top,SPECIAL-7\n`, "b.csv"),
  "outline of a drawing": saidOf(
    '<svg xmlns="http://www.w3.org/2000/svg"><rect id="U1" width="4" height="3"/></svg>',
    "c.svg",
  ),
  "id for a table": saidOf(`${head}R1,4,3,0,top,0805\n`, "d.csv", { outline: "edge" }),
  "chip codes": saidOf(`${head}R1,4,3,0,top,0402\nR2,9,3,0,top,1608\n`, "e.csv"),
};

describe("sentences of the import", () => {
  it.each(Object.entries(sentences))("about the %s name no option", (_, sentence) => {
    // The command's own sentence does: else this test would hold nothing.
    expect(sentence).toMatch(/--[a-z]/);
    expect(formWords(sentence)).not.toMatch(/--[a-z]/);
  });
});
