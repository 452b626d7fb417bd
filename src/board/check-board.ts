// board: a JSON value → everything that is wrong with it as a board map, errors and warnings, all at once.

import type { Problem } from "../core/json-problem.js";
import { type FileKind, kindProblem, schemaProblems, unknownKeys } from "../core/schema-problems.js";
import { boardMapSchema, type Region, regionSchema } from "./board-schema.js";
import { outlineProblems, partSizeProblems, polygonProblems } from "./check-board-polygons.js";
import { type CheckedRegion, overlapProblems, placeProblems } from "./check-board-regions.js";

/** What a board map is called in errors. */
const BOARD_KIND: FileKind = Object.freeze({
  kind: "faultglow/board",
  version: 1,
  name: "a board map",
  kindCode: "E_BOARD_KIND",
  valueCode: "E_BOARD_VALUE",
});

/** List all problems of a board map. A region that has an error does not hide those of the others.
 *  @param value parsed JSON; anything.
 *  @returns errors and warnings by sort of check (form, keys, outline, each region, refs, thickness, places, overlaps),
 *  and by place in the file within each; only the one about kind or version if that is wrong. Empty for a sound map. */
export function checkBoard(value: unknown): Problem[] {
  const wrongKind = kindProblem(value, BOARD_KIND);
  if (wrongKind !== null) return [wrongKind];
  const map = value as { outline?: unknown; regions?: unknown };
  const problems = schemaProblems(value, boardMapSchema, BOARD_KIND.valueCode);
  const add = (more: readonly Problem[]): void => {
    // One by one: a list of a hundred thousand does not fit into the arguments of a call.
    for (const problem of more) problems.push(problem);
  };
  add(unknownKeys(value, boardMapSchema));

  const outlineShape = boardMapSchema.shape.outline.safeParse(map.outline);
  const outline = outlineShape.success ? polygonProblems(outlineShape.data, "outline", "the outline") : null;
  add(outline?.problems ?? []);
  if (outline?.polygon) add(outlineProblems(outline.polygon));

  const regions: CheckedRegion[] = [];
  const given = Array.isArray(map.regions) ? map.regions : [];
  given.forEach((candidate, index) => {
    const shape = regionSchema.safeParse(candidate);
    if (!shape.success) return;
    const region = shape.data;
    const path = `regions[${index}]`;
    const checked = polygonProblems(region.polygon, `${path}.polygon`, `the polygon of ${region.ref}`);
    add(checked.problems);
    add(finishProblems(region, path));
    regions.push({ index, region, polygon: checked.polygon });
  });
  add(partSizeProblems(regions.flatMap(({ polygon }) => (polygon === null ? [] : [polygon]))));
  add(refProblems(given));
  add(thicknessProblems(value));
  if (Array.isArray(map.regions) && given.length === 0) {
    problems.push({
      severity: "warning",
      code: "N_BOARD_DOUBT",
      path: "regions",
      text: "the map has no regions, so that no part can be named",
      fix: "Add the parts that may be at fault",
    });
  }
  if (outline?.polygon) add(placeProblems(regions, outline.polygon));
  add(overlapProblems(regions));
  return problems;
}

function finishProblems(region: Region, path: string): Problem[] {
  if (region.finish === undefined || region.emissivity === undefined) return [];
  return [
    {
      severity: "warning",
      code: "N_BOARD_DOUBT",
      path: `${path}.emissivity`,
      text: `${region.ref} has a finish and an emissivity; the emissivity ${region.emissivity} is used`,
      fix: "Keep one of them",
    },
  ];
}

/** Refs are compared also where the rest of a region does not fit, so that one slip does not hide the other. */
function refProblems(regions: readonly unknown[]): Problem[] {
  const problems: Problem[] = [];
  const firstAt = new Map<string, { index: number; ref: string }>();
  regions.forEach((region, index) => {
    const ref = typeof region === "object" && region !== null ? (region as { ref?: unknown }).ref : undefined;
    if (typeof ref !== "string") return;
    const key = ref.trim().toUpperCase();
    const first = firstAt.get(key);
    if (first === undefined) {
      firstAt.set(key, { index, ref });
    } else if (first.ref === ref) {
      problems.push({
        severity: "error",
        code: "E_BOARD_REF",
        path: `regions[${index}].ref`,
        text: `the ref ${ref} is already that of regions[${first.index}]`,
        fix: "Give every region a ref of its own, on both sides together",
      });
    } else {
      problems.push({
        severity: "warning",
        code: "N_BOARD_DOUBT",
        path: `regions[${index}].ref`,
        text: `the refs "${ref}" and "${first.ref}" (regions[${first.index}]) differ in case or spaces only`,
        fix: "Write them alike if they are one part, else rename one",
      });
    }
  });
  return problems;
}

function thicknessProblems(value: unknown): Problem[] {
  const { thicknessMm } = value as { thicknessMm?: unknown };
  // Boards are made from 0.1 mm (flexible) to about 5 mm (backplanes): common practice, no source.
  if (typeof thicknessMm !== "number" || thicknessMm <= 0 || (thicknessMm >= 0.05 && thicknessMm <= 10))
    return [];
  return [
    {
      severity: "warning",
      code: "N_BOARD_DOUBT",
      path: "thicknessMm",
      text: `a board ${thicknessMm} mm thick is unusual`,
      fix: "Check the unit: thicknessMm is in millimetres",
    },
  ];
}
