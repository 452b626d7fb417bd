import { inflateSync } from "node:zlib";
import { afterEach, describe, expect, it, vi } from "vitest";
import { MARGIN } from "../../../src/report/pdf-flow.js";
import { PAGE, PdfSheet } from "../../../src/report/pdf-sheet.js";
import type { Plot, PlotItem } from "../../../src/report/plot.js";
import { renderJobPdf } from "../../../src/report/render-job-pdf.js";
import { makeJobModel } from "./make-job.js";

const LONG = {
  device: `Überlanges Gerät „Größe XL“ ${"Messumformerkaskade".repeat(9)} 主板维修报告第一版`,
  complaint: "客户说设备掉进水里以后就不能开机，充电时主板发热，显示屏不亮。".repeat(12),
  actionRemark: "ersetzt durch Neuteil der Größe 0402; 更换后复测 — Ångström, Łódź, Český, Жук, Ω µ ± −",
  remark: "x".repeat(700),
  net: "VBAT_PROTECTED_BEHIND_THE_FUSE_AND_THE_LOAD_SWITCH_".repeat(4),
};

interface Drawn {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly y: number;
}

/** Every text that is laid on the pages, where it begins and ends. */
function watchTexts(): Drawn[] {
  const drawn: Drawn[] = [];
  const original = PdfSheet.prototype.text;
  let inPlot = false;
  const plot = PdfSheet.prototype.plot;
  vi.spyOn(PdfSheet.prototype, "plot").mockImplementation(function (this: PdfSheet, ...args) {
    inPlot = true;
    plot.apply(this, args);
    inPlot = false;
  });
  vi.spyOn(PdfSheet.prototype, "text").mockImplementation(function (
    this: PdfSheet,
    text,
    x,
    y,
    style,
    anchor,
  ) {
    const width = this.widthOf(text, style);
    const left = anchor === "end" ? x - width : anchor === "middle" ? x - width / 2 : x;
    if (!inPlot) drawn.push({ text, left, right: left + width, y });
    original.call(this, text, x, y, style, anchor);
  });
  return drawn;
}

afterEach(() => vi.restoreAllMocks());

describe.each(["repairer", "customer"] as const)("the %s's PDF", (audience) => {
  it("keeps every text inside the margins, also long names, umlauts and Chinese", async () => {
    const drawn = watchTexts();
    await renderJobPdf(makeJobModel(LONG), audience);
    expect(drawn.length).toBeGreaterThan(40);
    // Half a point: widths are sums of rounded parts.
    const outside = drawn.filter(
      ({ left, right, y }) =>
        left < MARGIN.left - 0.5 ||
        right > PAGE.width - MARGIN.right + 0.5 ||
        y < MARGIN.top ||
        y > PAGE.height - 14,
    );
    expect(outside).toEqual([]);
  });

  it("cuts nothing: all letters of a long complaint are there, in order", async () => {
    const drawn = watchTexts();
    await renderJobPdf(makeJobModel(LONG), audience);
    expect(drawn.map(({ text }) => text).join("")).toContain(LONG.complaint);
  });

  it("keeps every text of a plot inside the plot", async () => {
    const plots: Plot[] = [];
    let widthOf: ((text: string, style: { size: number; bold?: boolean }) => number) | null = null;
    const original = PdfSheet.prototype.plot;
    vi.spyOn(PdfSheet.prototype, "plot").mockImplementation(function (this: PdfSheet, plot, x, y, scale) {
      plots.push(plot);
      widthOf = (text, style) => this.widthOf(text, style);
      original.call(this, plot, x, y, scale);
    });
    await renderJobPdf(makeJobModel(LONG), audience);
    const outside = plots.flatMap((plot) =>
      plot.items.filter((item: PlotItem) => {
        if (item.kind !== "text") return false;
        const width = widthOf!(item.text, { size: item.size, bold: item.bold ?? false });
        const left =
          item.anchor === "start" ? item.at[0] : item.at[0] - width / (item.anchor === "end" ? 1 : 2);
        return (
          left < -0.01 ||
          left + width > plot.width + 0.01 ||
          item.at[1] > plot.height ||
          item.at[1] < item.size * 0.7
        );
      }),
    );
    expect(plots.length).toBeGreaterThan(2);
    expect(outside).toEqual([]);
  });

  it("gives the same bytes each time, and holds no date of now", async () => {
    const first = Buffer.from(await renderJobPdf(makeJobModel(), audience));
    const second = Buffer.from(await renderJobPdf(makeJobModel(), audience));
    expect(first.equals(second)).toBe(true);
    // The last line of the made-up journal: 14:08:30 +01:00.
    expect(first.toString("latin1")).toContain("(D:20310203130830Z)");
  });

  it("is a whole PDF: every object of its table of places begins where the table says", async () => {
    const bytes = Buffer.from(await renderJobPdf(makeJobModel(), audience)).toString("latin1");
    expect(bytes.startsWith("%PDF-1.7")).toBe(true);
    expect(bytes.trimEnd().endsWith("%%EOF")).toBe(true);
    const start = Number(/startxref\s+(\d+)\s+%%EOF\s*$/.exec(bytes)![1]);
    const places = [...bytes.slice(start).matchAll(/^(\d{10}) 00000 n\s*$/gm)].map((match) =>
      Number(match[1]),
    );
    expect(places.length).toBeGreaterThan(10);
    places.forEach((place, i) => {
      expect(bytes.slice(place, place + 16)).toMatch(new RegExp(`^${i + 1} 0 obj`));
    });
  });
});

describe("fonts of the PDF", () => {
  it("are embedded with the letters that are used, so that text can be found and copied", async () => {
    const bytes = Buffer.from(
      await renderJobPdf(makeJobModel({ complaint: "短路 Größe" }), "customer"),
    ).toString("latin1");
    expect(bytes).toMatch(/\/FontName \/[A-Z]{6}\+ReportSans-Regular/);
    const maps = [...bytes.matchAll(/\/Length (\d+)\s+\/Filter \/FlateDecode\s+>>\s+stream\n/g)]
      .map((match) => {
        const from = match.index + match[0].length;
        return inflateSync(Buffer.from(bytes.slice(from, from + Number(match[1])), "latin1")).toString(
          "latin1",
        );
      })
      .filter((stream) => stream.includes("beginbfrange"));
    // ToUnicode: 短 is U+77ED, ö is U+00F6.
    expect(maps.some((map) => map.includes("<77ed>"))).toBe(true);
    expect(maps.some((map) => map.includes("<00f6>"))).toBe(true);
  });

  it("say which characters they have not, and show these as numbers", async () => {
    const drawn = watchTexts();
    await renderJobPdf(makeJobModel({ complaint: "한 and हि" }), "customer");
    const all = drawn.map(({ text }) => text).join(" ");
    expect(all).toContain("[U+D55C] and [U+0939][U+093F]");
    expect(all.replace(/\s+/g, " ")).toContain(
      "no shape for 3 characters of the job: U+0939, U+093F, U+D55C.",
    );
  });

  it("say nothing of the kind where all are there", async () => {
    const drawn = watchTexts();
    await renderJobPdf(makeJobModel(LONG), "customer");
    expect(drawn.map(({ text }) => text).join(" ")).not.toContain("no shape for");
  });
});
