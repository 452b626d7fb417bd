// page: the address after # → what is shown.
import { type Signal, signal } from "@preact/signals";

/** Sections of a job's page, in the order of the work. */
export const SECTIONS = ["frames", "board", "answer", "attempts", "readings", "report"] as const;
export type Section = (typeof SECTIONS)[number];

/** What is shown: the list of jobs, or a section of a job. */
export type Route =
  | { readonly page: "jobs" }
  | {
      readonly page: "job";
      readonly job: string;
      readonly section: Section;
      readonly attempt: number | null;
    };

/** Read an address: `#/jobs/ID/answer/2`; whatever else is the list of jobs. */
export function readRoute(hash: string): Route {
  const [, words, id, section, attempt] = hash.split("/");
  if (words !== "jobs" || id === undefined || id === "") return { page: "jobs" };
  const job = decoded(id);
  if (job === null) return { page: "jobs" };
  const number = Number(attempt);
  return {
    page: "job",
    job,
    section: SECTIONS.find((name) => name === section) ?? "frames",
    attempt: Number.isInteger(number) && number > 0 ? number : null,
  };
}

/** Null for what was cut short or mistyped between its percent signs. */
function decoded(word: string): string | null {
  try {
    return decodeURIComponent(word);
  } catch {
    return null;
  }
}

/** Write the address of a section of a job. */
export function sectionHash(job: string, section: Section, attempt?: number | null): string {
  const end = attempt === undefined || attempt === null ? "" : `/${attempt}`;
  return `#/jobs/${encodeURIComponent(job)}/${section}${end}`;
}

/** What is shown now. */
export const route: Signal<Route> = signal<Route>({ page: "jobs" });

/** Go to an address of the page. */
export function go(hash: string): void {
  location.hash = hash;
}

/** Let the route follow the address. */
export function followAddress(): void {
  const read = (): void => {
    route.value = readRoute(location.hash);
  };
  addEventListener("hashchange", read);
  read();
}
