// api: the shape of what the server tells of its own accord → schemas that read and describe it.
import * as z from "zod";
import { inboxFileSchema } from "./inbox-schema.js";
import { taskSchema } from "./task-schema.js";

/** An event of the stream at EVENTS_PATH (server-sent events; `data` is this as JSON). After a break of the connection
 *  the browser connects again by itself; fetch what is shown anew on `hello`. */
const serverEventSchema = z.discriminatedUnion("type", [
  z.object({ type: z.literal("hello"), tool: z.string() }),
  /** The list of jobs changed. */
  z.object({ type: z.literal("jobs") }),
  /** What a job holds changed, by this server, the command line or a watch: fetch its state. */
  z.object({ type: z.literal("job"), job: z.string() }),
  /** Files of the inbox were read, added or changed; `removed` are gone. */
  z.object({
    type: z.literal("inbox"),
    job: z.string(),
    files: z.array(inboxFileSchema),
    removed: z.array(z.string()),
  }),
  z.object({ type: z.literal("task"), task: taskSchema }),
]);

export type ServerEvent = z.infer<typeof serverEventSchema>;
