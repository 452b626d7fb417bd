import { describe, expect, it } from "vitest";
import { readRoute, SECTIONS, sectionHash } from "../../../../src/page/state/route.js";

describe("the route", () => {
  it("comes back from the address that it was written to", () => {
    for (const section of SECTIONS) {
      for (const attempt of [null, 3]) {
        const hash = sectionHash("a b/ü", section, attempt);
        expect(readRoute(hash)).toEqual({ page: "job", job: "a b/ü", section, attempt });
      }
    }
  });

  it.each(["", "#", "#/", "#/jobs", "#/jobs/", "#/other/1", "#/jobs/%/answer", "#/jobs/%E4"])(
    "is the list of jobs for %j",
    (hash) => {
      expect(readRoute(hash)).toEqual({ page: "jobs" });
    },
  );

  it("falls back to the first section, and to no attempt", () => {
    expect(readRoute("#/jobs/12/nothing/x")).toEqual({
      page: "job",
      job: "12",
      section: "frames",
      attempt: null,
    });
  });
});
