import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pictureLayout } from "../../../src/report/render-overlay.js";
import { scaleTicks } from "../../../src/report/scale-ticks.js";
import { spreadLabels } from "../../../src/report/spread-labels.js";
import { canDrawText, fitStrokeText, strokeText, strokeTextWidth } from "../../../src/report/stroke-font.js";

describe("scaleTicks", () => {
  it("finds round numbers inside the ends", () => {
    expect(scaleTicks(0.26, 6.1, 6).map((tick) => tick.text)).toEqual(["1", "2", "3", "4", "5", "6"]);
    expect(scaleTicks(-3, 21.3, 5).map((tick) => tick.text)).toEqual(["0", "5", "10", "15", "20"]);
    expect(scaleTicks(-0.31, 0.07, 4).map((tick) => tick.text)).toEqual(["−0.3", "−0.2", "−0.1", "0.0"]);
  });

  it("gives nothing for a scale without extent", () => {
    expect(scaleTicks(2, 2, 5)).toEqual([]);
    expect(scaleTicks(Number.NaN, 2, 5)).toEqual([]);
  });

  it("stays inside the ends and below the number asked for plus one", () => {
    const end = fc.double({ min: -1e4, max: 1e4, noNaN: true });
    fc.assert(
      fc.property(
        end,
        fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
        fc.integer({ min: 1, max: 12 }),
        (low, span, most) => {
          const ticks = scaleTicks(low, low + span, most);
          expect(ticks.length).toBeLessThanOrEqual(most + 1);
          for (const tick of ticks) {
            expect(tick.at).toBeGreaterThanOrEqual(low - span * 1e-6);
            expect(tick.at).toBeLessThanOrEqual(low + span * (1 + 1e-6));
          }
        },
      ),
    );
  });
});

describe("spreadLabels", () => {
  it("leaves labels that don't touch where they want to be", () => {
    expect(spreadLabels([90, 10, 50], 30, 0, 100)).toEqual([90, 10, 50]);
  });

  it("moves two that meet by the same amount", () => {
    expect(spreadLabels([52, 48], 20, 0, 100)).toEqual([60, 40]);
  });

  it("keeps order, distance and ends for any wishes", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50, max: 450 }), { minLength: 1, maxLength: 9 }), (wished) => {
        const placed = spreadLabels(wished, 40, 20, 380);
        const order = wished.map((_, i) => i).sort((i, j) => wished[i]! - wished[j]! || i - j);
        for (let rank = 0; rank < order.length; rank++) {
          const at = placed[order[rank]!]!;
          expect(at).toBeGreaterThanOrEqual(20 - 1e-9);
          expect(at).toBeLessThanOrEqual(380 + 1e-9);
          if (rank > 0) expect(at - placed[order[rank - 1]!]!).toBeGreaterThanOrEqual(40 - 1e-9);
        }
      }),
    );
  });

  it("moves closer together when there is no room", () => {
    expect(spreadLabels([5, 5, 5], 40, 0, 50)).toEqual([0, 25, 50]);
  });
});

describe("stroke text", () => {
  it("draws every letter, digit and sign that the labels use", () => {
    expect(
      canDrawText(
        "ABCDEFGHIJKLMNOPQRSTUVWXYZ abcdefghijklmnopqrstuvwxyz ÄÖÜäöüß 0123456789 .,:;()[]+−-±%·°…<>≥",
      ),
    ).toBe(true);
    expect(canDrawText("充")).toBe(false);
  });

  it("measures what it draws: the strokes of an aligned line end within its width", () => {
    const width = strokeTextWidth("U12 · 91 %", 14);
    const xs = [...strokeText("U12 · 91 %", 300, 40, 14, "end").matchAll(/[ML Q](-?\d+\.\d+) /g)].map((m) =>
      Number(m[1]),
    );
    expect(Math.min(...xs)).toBeGreaterThanOrEqual(300 - width - 0.01);
    expect(Math.max(...xs)).toBeLessThanOrEqual(300.01);
    expect(Math.max(...xs)).toBeGreaterThan(298);
  });

  it("shortens with an ellipsis until it fits, and not before", () => {
    expect(fitStrokeText("U12", 13, 100)).toBe("U12");
    const short = fitStrokeText("U1234-CHARGE-CONTROLLER", 13, 100);
    expect(short.endsWith("…")).toBe(true);
    expect(strokeTextWidth(short, 13)).toBeLessThanOrEqual(100);
  });

  it("shortens a name of a million letters as it does a short one", () => {
    expect(fitStrokeText("W".repeat(1_000_000), 13, 100)).toBe(fitStrokeText("W".repeat(50), 13, 100));
  });

  it("never passes control characters on", () => {
    expect(strokeText("\u001b", 0, 0, 7)).toBe(strokeText("\\x1b", 0, 0, 7));
  });
});

describe("pictureLayout", () => {
  it.each([
    [256, 192, 1244],
    [96, 70, 1244],
    [640, 480, 1244],
    [60, 160, 884],
  ])("fits a %d×%d frame without stretching it", (width, height, canvasWidth) => {
    const layout = pictureLayout(width, height);
    expect(layout.width).toBe(canvasWidth);
    // The size is whole pixels, so the proportions can be off by half a pixel of the shorter side.
    expect(layout.pictureWidth / width).toBeCloseTo(layout.scale, 1);
    expect(layout.pictureHeight / height).toBeCloseTo(layout.scale, 1);
    expect(layout.pictureHeight).toBeLessThanOrEqual(900);
  });

  it("has room beside the frame for the longest usual label, in letters of 11 px, with its leader and its edge of 14 px each", () => {
    const detail = "warm anyway · 0.185 mW";
    const room = pictureLayout(256, 192).left - 2 * 14;
    expect(fitStrokeText(detail, 11, room)).toBe(detail);
  });
});
