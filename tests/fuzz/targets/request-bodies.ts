// fuzz: what the page sends in JSON, each with the name of its call, so that one target has them all.
import type * as z from "zod";
import { makeAttemptSchema, placeSchema } from "../../../src/api/attempts-schema.js";
import { draftSchema, saveBoardSchema } from "../../../src/api/boards-schema.js";
import { changeManySchema } from "../../../src/api/inbox-schema.js";
import { makeJobSchema, saySchema } from "../../../src/api/jobs-schema.js";
import { makeReportSchema } from "../../../src/api/report-schema.js";
import { startWatchSchema } from "../../../src/api/watch-schema.js";
import { checked } from "../../../src/serve/check-request.js";
import { parseBody } from "../../../src/serve/receive-file.js";
import { ATTEMPT, BOARD, DRAWING, ENTRIES, HEADER, VIEW } from "./json-samples.js";

const { options, conditions } = ATTEMPT;
const hash = (digit: string): string => digit.repeat(64);

/** Each call with its schema and a body that it takes. */
const CALLS: readonly (readonly [name: string, schema: z.ZodType, body: unknown])[] = [
  ["makeJob", makeJobSchema, { device: HEADER.device, symptom: HEADER.symptom, boards: [BOARD] }],
  [
    "say",
    saySchema,
    { said: ENTRIES.slice(2).map((entry) => (entry as { said: unknown }).said), at: HEADER.createdAt },
  ],
  ["changeInbox", changeManySchema, { files: [hash("a"), hash("b")], role: "powered", scale: options.scale }],
  ["place", placeSchema, { frame: hash("a"), side: "top", attempt: 2 }],
  [
    "makeAttempt",
    makeAttemptSchema,
    {
      baseline: [hash("a")],
      powered: [hash("b"), hash("c")],
      view: VIEW,
      board: "main",
      options,
      conditions,
    },
  ],
  ["saveBoard", saveBoardSchema, { map: BOARD }],
  ["saveDraft", draftSchema, { draft: DRAWING }],
  ["makeReport", makeReportSchema, { for: "customer" }],
  ["startWatch", startWatchSchema, { folder: "/camera", view: VIEW, options, conditions, tell: "order" }],
];

/** Samples: `{ call, body }`. */
export const REQUESTS: readonly unknown[] = CALLS.map(([call, , body]) => ({ call, body }));

/** Read and check as the bench does. @throws ToolError E_BENCH_REQUEST */
export function readRequest(bytes: Uint8Array): unknown {
  const request = parseBody(bytes) as { readonly call?: unknown; readonly body?: unknown } | null;
  // An address that is none of these is answered by others.
  const [name, schema] = CALLS.find(([call]) => call === request?.call) ?? CALLS[0]!;
  return { call: name, body: checked(schema, request?.body) };
}
