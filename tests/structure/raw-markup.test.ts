// Names and remarks come from anybody: on the page they are text. What would make markup or code of a text is not used.
import { expect, it } from "vitest";
import { readText, sourceFiles, stageOf } from "./project.js";

it("the page makes no markup and no code of a text", () => {
  const page = sourceFiles().filter((path) => stageOf(path) === "page");
  expect(page.length).toBeGreaterThan(50);
  const raw =
    /dangerouslySetInnerHTML|\b(?:inner|outer)HTML\b|insertAdjacentHTML|document\.write|\beval\(|new Function\b|srcdoc|DOMParser|createContextualFragment/;
  expect(page.filter((path) => raw.test(readText(path)))).toEqual([]);
});

it("addresses on the page are its own: none is made of a text that came with a job", () => {
  const page = sourceFiles().filter((path) => stageOf(path) === "page");
  // A place on the page (`sectionHash`), a call of the server (`addressOf`), or the picture that the page itself holds
  // (`address`, of `URL.createObjectURL`).
  const addresses = page.flatMap((path) =>
    [...readText(path).matchAll(/\b(?:href|src|action)=(\{[^}]*\}|"[^"]*")/g)].map(([, value]) => ({
      path,
      value,
    })),
  );
  const ours = /^(?:"#\/"|\{(?:sectionHash|addressOf)\(.*\}|\{address \?\? ""\})$/;
  expect(addresses.length).toBeGreaterThan(5);
  expect(addresses.filter(({ value }) => !ours.test(value!))).toEqual([]);
});
