// serve: a bench → all its answers, guarded, with errors in one form.
import { Hono } from "hono";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import { ToolError } from "../core/errors.js";
import { addAttemptRoutes } from "./attempt-routes.js";
import { type Bench, noneError } from "./bench-context.js";
import { addBoardRoutes } from "./board-routes.js";
import { errorWords } from "./error-words.js";
import { addEventRoutes } from "./event-routes.js";
import { guardRequests, type Session, setHeaders } from "./guard-requests.js";
import { addInboxRoutes } from "./inbox-routes.js";
import { addJobRoutes } from "./job-routes.js";
import { servePage } from "./page-files.js";
import { addReportRoutes } from "./report-routes.js";
import { WorkCancelled } from "./work-process.js";

/** Status of an answer by its error (RFC 9110, 15.5 and 15.6); others are 422. */
const STATUS: Readonly<Record<string, ContentfulStatusCode>> = Object.freeze({
  FAULT: 500,
  E_BENCH_REQUEST: 400,
  E_BENCH_NONE: 404,
  E_BENCH_LARGE: 413,
  E_BENCH_SLOW: 408,
  E_BENCH_WORK: 500,
  E_JOB_LOCKED: 409,
  E_JOB_EXISTS: 409,
  E_JOB_WRITE: 507,
});
/** After these, more of the request may be on its way, and nobody will read it. */
const BROKEN_OFF: readonly string[] = ["E_BENCH_LARGE", "E_BENCH_SLOW", "E_BENCH_REQUEST", "E_JOB_WRITE"];

/** Build the bench's answers.
 *  @param onFault told of faults of ours.
 *  @param pageFolder of the built page; the build's own, if absent.
 *  @returns the app, and a function that ends its streams. */
export function benchApp(
  bench: Bench,
  session: Session,
  onFault: (error: unknown) => void,
  pageFolder?: string,
): { app: Hono; end: () => void } {
  const app = new Hono();
  app.use(setHeaders);
  app.use(guardRequests(session));
  addJobRoutes(app, bench, onFault);
  addInboxRoutes(app, bench);
  addAttemptRoutes(app, bench, onFault);
  addBoardRoutes(app, bench);
  addReportRoutes(app, bench, onFault);
  const end = addEventRoutes(app, bench);
  servePage(app, pageFolder);
  app.notFound((c) => c.json({ error: errorWords(noneError("there is nothing at this address")) }, 404));
  app.onError((error, c) => {
    const known =
      error instanceof WorkCancelled
        ? new ToolError("E_BENCH_WORK", { problem: "the bench is ending", fix: "Start it again" })
        : error;
    if (!(known instanceof ToolError)) onFault(known);
    const words = errorWords(known);
    if (BROKEN_OFF.includes(words.code)) c.header("Connection", "close");
    return c.json({ error: words }, STATUS[words.code] ?? 422);
  });
  return { app, end };
}
