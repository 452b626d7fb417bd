// The page loads from the real command, in Chromium, within its content policy.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type OpenBench, openBenchPage } from "./open-bench.js";

let open: OpenBench;
beforeAll(async () => {
  open = await openBenchPage();
});
afterAll(() => open?.close());

describe("the bench's page", () => {
  it("loads, shows something with a heading, and leaves no token in the address", async () => {
    await open.page.getByRole("heading").first().waitFor();
    expect(open.page.url()).not.toContain("token");
    expect(await open.page.title()).toContain("faultglow");
    expect(open.faults).toEqual([]);
  });

  it("may run no script and load no picture of others: the content policy holds", async () => {
    const refused = await open.page.evaluate(async () => {
      const seen: string[] = [];
      document.addEventListener("securitypolicyviolation", (event) => seen.push(event.effectiveDirective));
      const script = document.createElement("script");
      script.textContent = "document.title = 'run'";
      document.head.append(script);
      const image = new Image();
      image.src = "http://127.0.0.1:9/x.png";
      await fetch("http://127.0.0.1:9/").catch(() => {});
      // Ten seconds at the most, in which a fourth would be seen as well.
      for (let look = 0; look < 50 && (look < 2 || seen.length < 3); look++)
        await new Promise((done) => setTimeout(done, 200));
      return { seen, title: document.title };
    });
    expect(refused.title).not.toBe("run");
    expect(refused.seen.map((directive) => directive.replace(/-elem$/, "")).sort()).toEqual([
      "connect-src",
      "img-src",
      "script-src",
    ]);
  });

  it("can't be read by another page of this machine", async () => {
    const other = await open.browser.newPage();
    await other.goto("data:text/html,<p>another page</p>");
    const answer = await other.evaluate(
      (address) =>
        fetch(address, { credentials: "include" }).then(
          () => "read",
          () => "refused",
        ),
      `${open.bench().home}/api/jobs`,
    );
    expect(answer).toBe("refused");
    await other.close();
  });

  it("comes back after the bench was killed and started again", async () => {
    await open.restart();
    await open.page.getByRole("heading").first().waitFor();
    expect(open.faults.filter((fault) => fault.startsWith("thrown"))).toEqual([]);
  });
});
