// What is sent to the inbox and what is told of it, in whatever order answers and events come.
import { afterEach, describe, expect, it, vi } from "vitest";
import { type InboxFile, inboxHeadSchema } from "../../../../src/api/inbox-schema.js";
import { said } from "../../../../src/page/state/announce.js";
import { jobState, openJob, refreshJob, takeInbox } from "../../../../src/page/state/job-data.js";
import { type NamedFile, sendFiles, sending } from "../../../../src/page/state/uploads.js";

afterEach(() => {
  vi.unstubAllGlobals();
  openJob(null);
});

const json = (value: unknown, status = 200): Response => new Response(JSON.stringify(value), { status });
const hashOf = (i: number): string => i.toString(16).padStart(64, "0");
const inboxFile = (i: number, sort: InboxFile["sort"]): InboxFile =>
  ({ sha256: hashOf(i), names: [`frame-${i}.csv`], sort }) as InboxFile;

describe("files that are sent", () => {
  const files = (count: number, bytes: number): NamedFile[] =>
    Array.from({ length: count }, (_, i) => ({
      name: `burst/frame-${i + 1}.csv`,
      file: new File([new Uint8Array(bytes)], `frame-${i + 1}.csv`),
    }));
  /** Answers requests; notes the names that each brought. */
  function listen(refuses: (names: readonly string[]) => boolean = () => false): string[][] {
    const requests: string[][] = [];
    vi.stubGlobal("fetch", async (address: string, { body }: { body: Blob }) => {
      const url = new URL(address, "http://127.0.0.1");
      const isMany = url.pathname.endsWith("/many");
      const names: string[] = [];
      requests.push(names);
      if (isMany) {
        const [head] = (await body.text()).split("\n");
        names.push(...inboxHeadSchema.parse(JSON.parse(head!)).map(({ name }) => name));
      } else names.push(url.searchParams.get("name")!);
      if (refuses(names))
        return json({ error: { code: "FAULT", problem: "no", fix: "no", place: null } }, 500);
      return json(isMany ? { done: true } : { file: inboxFile(1, "unread") }, 201);
    });
    return requests;
  }
  const isOver = (): Promise<void> => vi.waitFor(() => expect(sending.value).toBeNull());

  it("go many in a request, the first alone and before all others, each once and in order", async () => {
    const requests = listen();
    const sent = files(100, 10);
    sendFiles("j", sent);
    expect(requests).toHaveLength(1);
    await isOver();
    expect(requests.map((names) => names.length)).toEqual([1, 32, 32, 32, 3]);
    expect(requests.flat()).toEqual(sent.map(({ name }) => name));
    expect(said.value).toMatchObject({ text: "100 files are in the job.", isBad: false });
  });

  it("go behind JSON, which may say by what they are read", async () => {
    const requests = listen();
    const [one, two, three, four] = files(4, 10);
    const scales = [one!, two!].map(({ name, file }) => ({ name: `${name}.json`, file }));
    sendFiles("j", [...scales, three!, four!]);
    expect(requests).toHaveLength(1);
    await isOver();
    expect(requests).toEqual([scales.map(({ name }) => name), [three!.name], [four!.name]]);
  });

  it("go in requests of no more than 4 MB, and what is larger goes alone", async () => {
    const requests = listen();
    sendFiles("j", [...files(5, 1.5e6), ...files(1, 6e6)]);
    await isOver();
    expect(requests.map((names) => names.length)).toEqual([1, 2, 2, 1]);
  });

  it("go each alone where they were refused together, so that the one that can't be taken is named", async () => {
    const bad = "burst/frame-3.csv";
    const requests = listen((names) => names.includes(bad));
    sendFiles("j", files(4, 10));
    await isOver();
    expect(requests.slice(0, 2).map((names) => names.length)).toEqual([1, 3]);
    expect(requests.slice(2).flat().sort()).toEqual([2, 3, 4].map((i) => `burst/frame-${i}.csv`));
    expect(said.value).toMatchObject({ text: `Not taken: ${bad}.`, isBad: true });
  });
});

describe("what is told while an answer is under way", () => {
  it("holds beside an answer that is older", async () => {
    let answer = (_: Response): void => {};
    vi.stubGlobal("fetch", () => new Promise<Response>((resolve) => (answer = resolve)));
    openJob("j");
    const older = json({ id: "j", inbox: { files: [inboxFile(1, "unread"), inboxFile(2, "unread")] } });
    takeInbox([inboxFile(1, "frame"), inboxFile(3, "unread")], [hashOf(2)]);
    answer(older);
    await vi.waitFor(() => expect(jobState.value).not.toBeNull());
    const shown = (): (string | undefined)[][] =>
      jobState.value!.inbox.files.map(({ names, sort }) => [names[0], sort]);
    expect(shown()).toEqual([
      ["frame-1.csv", "frame"],
      ["frame-3.csv", "unread"],
    ]);
    // Of the next answer nothing is older.
    const done = refreshJob();
    answer(json({ id: "j", inbox: { files: [inboxFile(4, "frame")] } }));
    await done;
    expect(shown()).toEqual([["frame-4.csv", "frame"]]);
  });
});
