import { describe, expect, it } from "vitest";
import { AID_STATEMENT, CAUTIONS } from "../../../src/report/cautions.js";
import { CUSTOMER_CAUTIONS } from "../../../src/report/customer-document.js";
import { renderJobReport } from "../../../src/report/render-job-report.js";
import { makeJobModel } from "./make-job.js";

const text = (html: string): string =>
  html
    .replace(/<style>[\s\S]*?<\/style>/g, "")
    .replace(/<[^>]+>/g, " ")
    .replaceAll("\u00a0", " ")
    .replace(/&#39;/g, "'")
    .replace(/&gt;/g, ">")
    .replace(/&lt;/g, "<")
    .replace(/\s+/g, " ");

describe("the repairer's report of a job", () => {
  const html = renderJobReport(makeJobModel(), "repairer");
  const words = text(html);

  it("tells verdict, next measurement, story, comparison, readings and cautions", () => {
    expect(words).toContain("C31 is at fault (81 %).");
    expect(words).toContain("Measure next: Read the pins of C31 with the supply off.");
    expect(words).toContain("2031-02-03 14:05 +01:00 Action U12 replaced with a new one");
    expect(words).toContain("a remark of the bench");
    expect(words).toContain("U12 (top) gone 6.1 K → 0.020 K");
    expect(words).toContain("It may be C32 instead.");
    expect(words).toContain("Look at C31 (top): it shares VSYS with U12");
    expect(words).toContain("a warning of the comparison");
    expect(words).toContain("0.003 V 0.450 V short to ground");
    expect(words).toContain("VSYS 0.003 V short to ground 0.446 V as expected cleared");
    for (const caution of [...CAUTIONS, AID_STATEMENT]) expect(words).toContain(caution);
  });

  it("gives both ends of an expected range their unit where it is not the same", () => {
    const model = makeJobModel();
    const place = { measure: "resistance", overRange: false, net: "VSYS", raw: "" } as const;
    const told = (seq: number) => ({ seq, at: "2031-02-03T14:09:30+01:00" });
    const ranges = (value: number, upTo: number) =>
      text(
        renderJobReport(
          {
            ...model,
            evidence: null,
            job: {
              ...model.job,
              readings: [{ ...place, value: 1000, ...told(9) }],
              references: [{ ...place, value, upTo, ...told(8) }],
            },
          },
          "repairer",
        ),
      );
    expect(ranges(900, 1200)).toContain("1.00 kΩ 900 Ω–1.20 kΩ as expected");
    expect(ranges(900, 990)).toContain("1.00 kΩ 900–990 Ω");
  });

  it("lists suspects with what speaks for and against, and names the less probable in one line", () => {
    expect(words).toContain("C31 (top) 81 % 80 % open Attempt 2 gives it 93 %.");
    expect(words).toContain(
      "U12 (top), replaced 6 % 1 % cleared Attempt 1 gives it 87 %. It was replaced, and the heat stayed.",
    );
    expect(words).toContain("With little chance: J2 2 %.");
    expect(words).toContain("None of the named parts: 5 %.");
  });

  it("speaks of no named parts where no map names any", () => {
    const { job, evidence, ...rest } = makeJobModel();
    const bare = {
      ...rest,
      job: { ...job, boards: [], attempts: [] },
      comparisons: [],
      evidence: { ...evidence!, suspects: [] },
    };
    expect(text(renderJobReport(bare, "repairer"))).toContain(
      "No part can be named: the job has no board map yet. More than one fault:",
    );
  });

  it("has the hash of every frame, of map and views, and the seal", () => {
    for (const letter of ["a", "b", "1", "2", "e", "f", "5"]) expect(html).toContain(letter.repeat(64));
  });

  it("names the file of a map and the board that it is of", () => {
    expect(words).toContain("board.json map of made-up board eeee");
  });

  it("draws each attempt, the scale, the burst and the watts", () => {
    expect(html.match(/<svg role="img" aria-label="Attempt \d/g)).toHaveLength(2);
    expect(html).toContain('aria-label="Scale of the rise');
    expect(html).toContain('aria-label="Rise against time from power-on. C31: 4.5 K after 1.5 s."');
    expect(html).toContain('aria-label="Watts fed and seen. Attempt 1: fed 0.42 W, seen 0.31 ± 0.06 W');
  });

  it("can neither load nor run anything", () => {
    expect(html).toContain("default-src 'none'");
    expect(html).not.toMatch(/<script|<link|<iframe|\son\w+=|url\((?!#)/i);
  });
});

describe("the customer's report of a job", () => {
  it("is without the maths: no probability, no sigma, no watts, no hash of a frame, no remark of the bench", () => {
    const html = renderJobReport(makeJobModel(), "customer");
    const words = text(html);
    expect(words).toContain("The fault is very probably at C31. It is not mended yet.");
    expect(words).toContain("U12 replaced. with a new one");
    expect(words).toContain("Most heat at C31.");
    expect(words).not.toMatch(/\d %|σ|sigma|\d W\b|χ²|bits/);
    expect(html).not.toContain("a".repeat(64));
    expect(words).not.toContain("a remark of the bench");
    expect(words).toContain("5".repeat(64));
    for (const caution of CUSTOMER_CAUTIONS) expect(words).toContain(caution);
  });

  it("counts the places that were read, in words that fit their number", () => {
    const model = makeJobModel();
    const [first] = model.job.readings;
    const told = (nets: readonly string[]) => {
      const readings = nets.map((net, k) => ({ ...first!, net, value: 0.45, seq: 3 + k }));
      const references = nets.map((net, k) => ({ ...model.job.references[0]!, net, seq: 2 + k }));
      const job = { ...model.job, readings, references };
      return text(renderJobReport({ ...model, evidence: null, job }, "customer"));
    };
    expect(told(["VSYS"])).toContain("The place that was measured and has a value");
    expect(told(["VSYS", "VIO"])).toContain("Both places that were measured and have a value");
    expect(told(["VSYS", "VIO", "VDD"])).toContain("All 3 places that were measured and have a value");
  });

  it("tells of two faults where there are two", () => {
    const model = makeJobModel();
    const [first, ...rest] = model.evidence!.suspects;
    const second = { ...first!, ref: "Q8", probability: 0.97, stillFaulty: 0.97 };
    const words = (secondFault: number) =>
      text(
        renderJobReport(
          { ...model, evidence: { ...model.evidence!, suspects: [first!, second, ...rest], secondFault } },
          "customer",
        ),
      );
    // As sure as the less sure of the two.
    expect(words(0.9)).toContain(
      "There are two faults, very probably at C31 and at Q8. They are not mended yet.",
    );
    expect(words(0.1)).toContain("The fault is very probably at C31. It is not mended yet.");
  });

  it("tells of three, of one that was cured beside them, and on which board of the device", () => {
    const model = makeJobModel();
    const [first, ...rest] = model.evidence!.suspects;
    const open = { ...first!, probability: 0.97, stillFaulty: 0.97, board: "lower" };
    const q8 = { ...open, ref: "Q8", board: "upper" };
    const words = (suspects: typeof rest, thirdFault: number) => {
      const evidence = { ...model.evidence!, suspects, secondFault: 0.9, thirdFault };
      return text(renderJobReport({ ...model, evidence }, "customer"));
    };
    expect(words([{ ...open, board: "upper" }, open, q8, ...rest], 0.8)).toMatch(
      /There are three faults, almost certainly at C31 \(upper\), at C31 \(lower\) and at Q8\./,
    );
    const cured = { ...q8, state: "cured" as const, stillFaulty: 0.02, changed: ["reflowed", "replaced"] };
    expect(words([first!, cured, ...rest], 0.1)).toMatch(
      /at C31\. It is not mended yet\. Q8 was at fault too and has been replaced\./,
    );
  });

  it("says when the fault is mended, and what it was", () => {
    const words = text(renderJobReport(makeJobModel({ mended: 0.97 }), "customer"));
    expect(words).toContain("The heat that showed the fault is gone. C31 was very probably the cause.");
  });
});

describe.each(["repairer", "customer"] as const)("names and remarks in the %s's report", (audience) => {
  it("are text, never markup", () => {
    const evil = `<img src=x onerror="alert(1)">&amp;'\``;
    const html = renderJobReport(
      makeJobModel({ device: evil, complaint: evil, actionRemark: evil, remark: evil, net: evil }),
      audience,
    );
    expect(html).not.toContain("<img");
    expect(html).not.toContain('onerror="');
    expect(html).toContain("&lt;img src=x onerror=&quot;alert(1)&quot;&gt;&amp;amp;&#39;&#96;");
  });

  it("lose nothing but line breaks, and commanding characters become visible", () => {
    const html = renderJobReport(makeJobModel({ complaint: "first\nsecond\u202edrow \u0007" }), audience);
    expect(html).toContain("first second\\u202edrow \\x07");
  });

  it("give the same bytes each time", () => {
    expect(renderJobReport(makeJobModel(), audience)).toBe(renderJobReport(makeJobModel(), audience));
  });
});

describe("a job with little in it", () => {
  it("tells no chances where nothing that was measured points to a part", () => {
    const model = makeJobModel();
    const evidence = model.evidence!;
    const open = evidence.suspects.filter(({ state, changed }) => state === "open" && changed.length === 0);
    const of = (pointsToPart: boolean) =>
      text(
        renderJobReport({ ...model, evidence: { ...evidence, suspects: open, pointsToPart } }, "repairer"),
      );
    expect(open.length).toBeGreaterThan(0);
    expect(of(true)).toContain("None of the named parts:");
    expect(of(false)).toContain("Nothing that was measured points to a part, so no chances are told.");
    expect(of(false)).not.toContain("None of the named parts:");
  });

  it("reports without attempts, evidence and comparisons", () => {
    const { job, tool } = makeJobModel();
    const empty = {
      ...job,
      attempts: [],
      readings: [],
      references: [],
      actions: [],
      remarks: [],
      boards: [],
      entries: [],
    };
    const model = { job: empty, evidence: null, comparisons: [], rises: [], tool };
    expect(text(renderJobReport(model, "repairer"))).toContain("No attempt has been made yet.");
    expect(text(renderJobReport(model, "customer"))).toContain("No measurement has been made yet.");
  });

  it("draws boards without colour where there is no rise, and says which attempts have no map", () => {
    const model = makeJobModel();
    const [first, second] = model.job.attempts;
    const html = renderJobReport(
      {
        ...model,
        rises: [],
        job: { ...model.job, attempts: [first!, { ...second!, board: null, views: [null] }] },
      },
      "repairer",
    );
    expect(html).not.toContain("Scale of the rise");
    expect(text(html)).toContain("no picture of the rise");
    expect(text(html)).toContain("Not drawn, since no board map was given: attempt 2.");
  });

  it("says why two attempts can't be compared", () => {
    const model = makeJobModel();
    const comparisons = [{ before: 1, after: 2, comparison: null, reason: "the maps differ" }];
    expect(text(renderJobReport({ ...model, comparisons }, "repairer"))).toContain(
      "Not compared: the maps differ.",
    );
  });
});
