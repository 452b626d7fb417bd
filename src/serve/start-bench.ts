// serve: a folder of jobs and a port → a bench that listens on this machine alone.
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { createAdaptorServer } from "@hono/node-server";
import { ToolError } from "../core/errors.js";
import { AttemptsAhead } from "./attempts-ahead.js";
import { benchApp } from "./bench-app.js";
import { BENCH_LIMITS, type Bench, type BenchLimits } from "./bench-context.js";
import { BENCH_PORT, BENCH_PORTS } from "./bench-ports.js";
import { EventHub } from "./event-hub.js";
import { beginSession } from "./guard-requests.js";
import { InboxFolder } from "./inbox-folder.js";
import { JobFinder, openJobsFolder } from "./job-finder.js";
import { TaskList } from "./task-list.js";
import { WatchList } from "./watch-list.js";
import { WorkProcess } from "./work-process.js";

/** Files that are read at a time: one is worked on while others come from the disk and are inflated. */
const QUICK_AT_ONCE = 3;

/** What a bench is started with. */
export interface BenchOptions {
  /** Folder of jobs; made if it is not there. */
  readonly jobs: string;
  /** Port; 0: any that is free. Absent: BENCH_PORT or one of the next. */
  readonly port?: number | undefined;
  readonly toolVersion: string;
  readonly limits?: Partial<BenchLimits>;
  /** Told of faults of ours; they stop nothing. */
  readonly onFault: (error: unknown) => void;
  /** Folder of the built page; that of the build, if absent. */
  readonly page?: string | undefined;
}

/** A bench that listens. */
export interface RunningBench {
  readonly port: number;
  readonly token: string;
  /** Address to open, with the token. */
  readonly address: string;
  /** Ends everything: streams, watches, work in progress (the jobs stay sound), connections. */
  readonly close: () => Promise<void>;
}

/** Start a bench. It is bound to 127.0.0.1: no other machine can reach it.
 *  @throws ToolError E_OUTPUT if the folder can't be used, E_BENCH_PORT if the port can't. */
export async function startBench(options: BenchOptions): Promise<RunningBench> {
  const { toolVersion, onFault } = options;
  await openJobsFolder(options.jobs);
  const limits = { ...BENCH_LIMITS, ...options.limits };
  const session = beginSession();
  const events = new EventHub();
  const quick = new WorkProcess(toolVersion, QUICK_AT_ONCE);
  const [medium, long] = [new WorkProcess(toolVersion), new WorkProcess(toolVersion)];
  const inbox = new InboxFolder({ quick, events, toolVersion, jobsFolder: options.jobs });
  const bench: Bench = {
    toolVersion,
    limits,
    jobs: new JobFinder(options.jobs),
    inbox,
    tasks: new TaskList(events),
    ahead: new AttemptsAhead({ quick, long, inbox }),
    watches: new WatchList({ quick, long, events, toolVersion }),
    events,
    quick,
    medium,
    long,
  };
  const { app, end } = benchApp(bench, session, onFault, options.page);
  const server = createAdaptorServer({
    fetch: app.fetch,
    createServer,
    serverOptions: {
      headersTimeout: limits.headMs,
      requestTimeout: limits.requestMs,
      // An upload that is sent just when the server hangs up fails, and browsers don't send it again.
      keepAliveTimeout: 60_000,
      connectionsCheckingInterval: Math.min(1000, limits.headMs),
      maxHeaderSize: 16 * 1024,
    },
  }) as Server;
  session.port = await listen(server, options.port);
  const { port, token } = session;
  return {
    port,
    token,
    address: `http://127.0.0.1:${port}/?token=${token}`,
    close: async () => {
      const inboxClosed = bench.inbox.close();
      await bench.watches.close();
      end();
      await Promise.all([inboxClosed, quick.close(), medium.close(), long.close()]);
      const closed = new Promise((resolve) => server.close(resolve));
      server.closeAllConnections();
      await closed;
    },
  };
}

async function listen(server: Server, wanted: number | undefined): Promise<number> {
  const ports =
    wanted === undefined ? Array.from({ length: BENCH_PORTS }, (_, i) => BENCH_PORT + i) : [wanted];
  for (const port of ports) {
    const error = await listenAt(server, port);
    if (error === null) return (server.address() as AddressInfo).port;
    if (error.code !== "EADDRINUSE") {
      throw new ToolError("E_BENCH_PORT", {
        problem: `port ${port} can't be used: the system said ${error.code}`,
        fix: "Give another one with --port, above 1023, or 0 for any that is free",
      });
    }
  }
  const many = ports.length > 1;
  throw new ToolError("E_BENCH_PORT", {
    problem: many
      ? `the ports ${ports[0]} to ${ports[ports.length - 1]} are all in use`
      : `port ${ports[0]} is in use: another bench may run already`,
    fix: "Open the address that the other bench printed, or give another port with --port, such as 0 for any that is free",
  });
}

function listenAt(server: Server, port: number): Promise<NodeJS.ErrnoException | null> {
  return new Promise((resolve) => {
    const onError = (error: NodeJS.ErrnoException): void => {
      server.off("listening", onListening);
      resolve(error);
    };
    const onListening = (): void => {
      server.off("error", onError);
      resolve(null);
    };
    server.once("error", onError);
    server.once("listening", onListening);
    server.listen({ port, host: "127.0.0.1", exclusive: true });
  });
}
