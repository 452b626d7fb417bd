// Starts the real command on a folder of its own and opens its page in Chromium, noting every fault that the page has.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { type BenchProcess, startBenchProcess } from "../cli/start-bench.js";
import { chromiumPath } from "./chromium-path.js";
import { PATIENCE_MS } from "./patience.js";

/** The page in a browser, and the bench behind it. */
export interface OpenBench {
  readonly browser: Browser;
  readonly page: Page;
  /** Folder of the jobs. */
  readonly jobs: string;
  /** The bench that runs now. */
  readonly bench: () => BenchProcess;
  /** What the page threw, logged as an error, or was refused by the content policy; and requests to anywhere else. */
  readonly faults: readonly string[];
  /** Kill the bench as a pulled plug does, start another on the same folder, and open it in the same page. */
  readonly restart: () => Promise<void>;
  readonly close: () => Promise<void>;
}

/** Open the bench's page. @param options of the browser's context, such as its size and colour scheme. */
export async function openBenchPage(options: BrowserContextOptions = {}): Promise<OpenBench> {
  const jobs = await mkdtemp(join(tmpdir(), "faultglow-browser-"));
  let bench = await startBenchProcess(jobs);
  const browser = await chromium.launch({ executablePath: chromiumPath(), args: ["--no-sandbox"] });
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 }, ...options });
  context.setDefaultTimeout(PATIENCE_MS);
  const page = await context.newPage();
  const faults: string[] = [];
  let isRestarting = false;
  page.on("pageerror", (error) => faults.push(`thrown: ${error.message}`));
  page.on("console", (message) => {
    // While no bench runs, the browser says of each request that nobody answers.
    if (message.type() === "error" && !isRestarting) faults.push(`logged: ${message.text()}`);
  });
  page.on("request", (request) => {
    const { protocol, hostname } = new URL(request.url());
    if (!["data:", "blob:"].includes(protocol) && hostname !== "127.0.0.1")
      faults.push(`asked: ${request.url()}`);
  });
  // Tells of everything that the content policy refuses, with what it was.
  await context.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) => {
      console.error(`content policy: ${event.violatedDirective} ${event.blockedURI} ${event.sourceFile}`);
    });
  });
  await page.goto(bench.address);
  return {
    browser,
    page,
    jobs,
    bench: () => bench,
    faults,
    restart: async () => {
      isRestarting = true;
      const { pathname, hash } = new URL(page.url());
      await bench.kill();
      bench = await startBenchProcess(jobs);
      await page.goto(bench.address);
      await page.goto(`${bench.home}${pathname}${hash}`);
      isRestarting = false;
    },
    close: async () => {
      await browser.close();
      await bench.stop();
      await rm(jobs, { recursive: true, force: true });
    },
  };
}
