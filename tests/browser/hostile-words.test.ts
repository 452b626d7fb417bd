// Names and remarks that are made to do harm, on every section of the page in Chromium: they are read, and nothing
// else.
import { readFileSync } from "node:fs";
import { afterEach, expect, it } from "vitest";
import { beginJob, button, chooseFiles, endJob, open, section, table, textFile } from "./job-driver.js";
import { LONG } from "./patience.js";
import { SAMPLE_MAP, samplePath } from "./sample-board.js";

afterEach(endJob);

/** Of its tags the browser would make elements, each of which says so. */
const evil = (where: string): string =>
  `${where}<img src=x onerror="window.owned='${where}'"><svg onload="window.owned='${where}'"></svg>"'&lt;\u202egnp`;
const MAP = {
  ...SAMPLE_MAP,
  name: evil("board"),
  regions: SAMPLE_MAP.regions.map((region) =>
    region.ref === "C6"
      ? { ...region, ref: evil("part"), label: evil("label"), nets: [evil("net")] }
      : region,
  ),
};

/** What of it became more than text. */
const harm = () =>
  open.page.evaluate(() => {
    const made = [...document.querySelectorAll("[onerror],[onload],img[src=x],script:not([src])")];
    return [...made.map((one) => one.outerHTML), ...Object.keys(window).filter((key) => key === "owned")];
  });
const isRead = (where: string) =>
  open.page
    .getByText(`${where}<img src=x onerror=`)
    .first()
    .waitFor({ ...LONG, state: "attached" });

it("are text on every section, and in the list of jobs", async () => {
  await beginJob(MAP);
  const { page } = open;
  const job = /jobs\/([^/]+)/.exec(page.url())![1]!;
  const post = (path: string, body: unknown) =>
    page.evaluate(
      async ([to, text]) => {
        const headers = { "Content-Type": "application/json" };
        return (await fetch(to, { method: "POST", headers, body: text })).status;
      },
      [path, JSON.stringify(body)] as const,
    );
  const frame = (kind: string) => {
    const csv = readFileSync(samplePath(`attempt-1/${kind}/frame-1.csv`), "utf8");
    return textFile(`${kind} ${evil("frame").replaceAll("/", "")}.csv`, csv);
  };
  const view = readFileSync(samplePath("attempt-1/view-top.json"), "utf8");
  await chooseFiles([frame("baseline"), textFile("view-top.json", view)]);
  await button(/^Use for /).click(LONG);
  await page.getByText("is placed on the board").first().waitFor();
  await isRead("frame");
  await chooseFiles(frame("powered"));
  await table("Powered frames").waitFor(LONG);
  await expect.poll(() => button("Analyse").isEnabled(), LONG).toBe(true);
  await button("Analyse").click();
  await page.getByRole("link", { name: "Attempt 1" }).waitFor(LONG);
  const said = [
    { type: "remark", text: evil("remark") },
    {
      type: "reading",
      reading: {
        net: evil("place"),
        measure: "diode",
        value: 0.2,
        overRange: false,
        raw: "0.2",
        remark: evil("reading"),
      },
    },
    { type: "action", action: { did: "replaced", ref: evil("deed"), remark: evil("action") } },
  ];
  expect(await post(`/api/jobs/${job}/said`, { said })).toBe(201);
  expect(await post("/api/jobs", { device: evil("device"), complaint: evil("complaint") })).toBe(201);

  for (const [name, shown] of [
    ["Frames", ["frame"]],
    ["Board", ["part", "label"]],
    ["Answer", ["part", "net"]],
    ["Attempts", ["part"]],
    ["Readings & actions", ["place", "remark", "deed", "action"]],
    ["Report", []],
  ] as const) {
    await section(name);
    for (const one of shown) await isRead(one);
    expect(await harm(), name).toEqual([]);
  }
  await page.goto(`${open.bench().home}/#/`);
  for (const one of ["device", "complaint"]) await isRead(one);
  expect(await harm()).toEqual([]);
  // Neither did the content policy have to refuse any of it.
  expect(open.faults).toEqual([]);

  // The same words as markup are seen by what was asked above.
  await page.evaluate((text) => {
    const made = document.createElement("div");
    made.innerHTML = text;
    document.body.append(made);
  }, evil("shown"));
  expect(await harm()).toHaveLength(2);
});
