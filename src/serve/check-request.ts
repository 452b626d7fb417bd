// serve: what came with a request → checked values, or an error that says which of them is not as expected.
import type { Context } from "hono";
import type * as z from "zod";
import { ToolError } from "../core/errors.js";
import type { Problem } from "../core/json-problem.js";
import { schemaProblems } from "../core/schema-problems.js";
import type { BenchLimits } from "./bench-context.js";
import { receiveJson } from "./receive-file.js";

/** Check a value. @throws ToolError E_BENCH_REQUEST */
export function checked<T extends z.ZodType>(schema: T, value: unknown): z.output<T> {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const [{ path, text }] = schemaProblems(value, schema, "E_BENCH_REQUEST") as [Problem];
  throw new ToolError("E_BENCH_REQUEST", {
    problem: text,
    fix: "Load the page again; if that does not help, report it",
    place: path === "" ? {} : { path: path.slice(0, 200) },
  });
}

/** Read and check the JSON of a request. @throws ToolError E_BENCH_REQUEST, E_BENCH_LARGE, E_BENCH_SLOW */
export async function checkedBody<T extends z.ZodType>(
  c: Context,
  schema: T,
  limits: BenchLimits,
): Promise<z.output<T>> {
  const type = c.req.header("content-type") ?? "";
  // A form of another page can send text and forms, but no JSON, without being asked first (Fetch, CORS-safelisted
  // types).
  if (!/^application\/json\b/i.test(type)) {
    throw new ToolError("E_BENCH_REQUEST", {
      problem: `expected application/json, found "${type.slice(0, 80)}"`,
      fix: "Send JSON with that type",
    });
  }
  return checked(schema, await receiveJson(c.req.raw.body, limits));
}
