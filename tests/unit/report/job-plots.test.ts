import { describe, expect, it } from "vitest";
import { coursePlot, MOST_COURSES } from "../../../src/report/course-plot.js";
import type { Plot, PlotPath, PlotText } from "../../../src/report/plot.js";
import { plotToSvg } from "../../../src/report/plot-to-svg.js";
import { wattsPlot } from "../../../src/report/watts-plot.js";

const texts = ({ items }: Plot): PlotText[] => items.filter((item): item is PlotText => item.kind === "text");

describe("coursePlot", () => {
  const points = [0.5, 1, 2.5].map((timeS) => ({ timeS, riseK: 2 * timeS, sigmaK: 0.2 }));

  it("draws a named line for each part, of different dash and mark", () => {
    const plot = coursePlot(
      [
        { name: "U12", points },
        { name: "C31", points },
      ],
      250,
      150,
    )!;
    expect(
      texts(plot)
        .filter(({ bold }) => bold)
        .map(({ text }) => text),
    ).toEqual(["U12", "C31"]);
    const lines = plot.items.filter(
      (item): item is PlotPath => item.kind === "path" && !item.closed && item.rings[0]!.length === 3,
    );
    expect(lines).toHaveLength(2);
    expect(lines[0]!.dash).not.toEqual(lines[1]!.dash);
    // Linear in time: the middle point lies on the line between the others.
    const [a, b, c] = lines[0]!.rings[0]!;
    expect((b![1] - a![1]) / (b![0] - a![0])).toBeCloseTo((c![1] - a![1]) / (c![0] - a![0]), 9);
  });

  it("keeps names at the line ends apart, shortens long ones, and holds so many lines", () => {
    const courses = Array.from({ length: 6 }, (_, i) => ({
      name: `VERY_LONG_NAME_OF_A_PART_${i}`.repeat(3),
      points,
    }));
    const names = texts(coursePlot(courses, 250, 150)!).filter(({ bold }) => bold);
    expect(names).toHaveLength(MOST_COURSES);
    expect(names.every(({ text }) => text.endsWith("…"))).toBe(true);
    const heights = names.map(({ at }) => at[1]).sort((p, q) => p - q);
    heights.slice(1).forEach((y, i) => {
      expect(y - heights[i]!).toBeGreaterThanOrEqual(7);
    });
  });

  it("tells long bursts and large rises in plain figures", () => {
    const long = [60, 150].map((timeS) => ({ timeS, riseK: 2 * timeS, sigmaK: 0.2 }));
    expect(coursePlot([{ name: "U12", points: long }], 250, 150)!.description).toContain(
      "U12: 300 K after 150 s",
    );
  });

  it("is null without at least two frames", () => {
    expect(coursePlot([{ name: "U12", points: points.slice(0, 1) }], 250, 150)).toBeNull();
    expect(coursePlot([], 250, 150)).toBeNull();
  });
});

describe("wattsPlot", () => {
  it("draws bars as long as the watts, with numbers beside them", () => {
    const plot = wattsPlot(
      [
        { name: "Attempt 1", fedW: 0.8, seenW: 0.4, seenSigmaW: 0.1 },
        { name: "Attempt 2", fedW: null, seenW: null, seenSigmaW: null },
        { name: "Attempt 3", fedW: null, seenW: 0.2, seenSigmaW: null },
        { name: "Attempt 4", fedW: 0.3, seenW: 0.09, seenSigmaW: 0.16 },
      ],
      420,
    )!;
    const bars = plot.items.filter(
      (item): item is PlotPath => item.kind === "path" && item.fill !== undefined,
    );
    const [fed, seen, third] = bars.map(({ rings }) => rings[0]![1]![0] - rings[0]![0]![0]);
    expect(bars).toHaveLength(5);
    expect(seen! / fed!).toBeCloseTo(0.5, 9);
    expect(third! / fed!).toBeCloseTo(0.25, 9);
    const words = texts(plot).map(({ text }) => text);
    expect(words).toEqual(
      expect.arrayContaining([
        "fed 0.80 W",
        "seen 0.40 ± 0.10 W",
        "fed: not noted",
        "seen 0.200 W",
        "seen 0.09 (0 to 0.25) W",
      ]),
    );
    expect(words).not.toContain("Attempt 2");
  });

  it("is null where no watts are known", () => {
    expect(wattsPlot([{ name: "Attempt 1", fedW: null, seenW: null, seenSigmaW: null }], 420)).toBeNull();
  });
});

describe("plotToSvg", () => {
  it("escapes names, and rounds to hundredths", () => {
    const svg = plotToSvg(
      {
        width: 10,
        height: 5,
        description: `a "<b>" plot`,
        items: [
          {
            kind: "text",
            at: [1.23456, 2],
            text: "<script>",
            size: 7,
            anchor: "middle",
            colour: "#123456",
            halo: true,
          },
          {
            kind: "clip",
            ring: [
              [0, 0],
              [1, 0],
              [1, 1],
            ],
            items: [
              {
                kind: "path",
                rings: [
                  [
                    [0, 0],
                    [2, 2],
                  ],
                ],
                closed: false,
                stroke: "#000000",
                dash: [1, 2],
              },
            ],
          },
        ],
      },
      "p1",
    );
    expect(svg).toContain('aria-label="a &quot;&lt;b&gt;&quot; plot"');
    expect(svg).toContain('x="1.23" y="2"');
    expect(svg).toContain("&lt;script&gt;</text>");
    expect(svg).toContain(
      '<clipPath id="p1-c1"><path d="M0 0L1 0L1 1Z"/></clipPath><g clip-path="url(#p1-c1)">',
    );
    expect(svg).toContain('stroke-dasharray="1 2"');
  });
});
