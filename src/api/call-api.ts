// api: the name of a call and what it is given → what the server answers.
import { placeText } from "../core/errors.js";
import type { AnswerError, ErrorWords } from "./answer-error-schema.js";
import type { Calls } from "./calls.js";
import { addressOf, type CallName, ENDPOINTS, type Endpoint } from "./endpoints.js";

/** An answer that says what went wrong. */
export class CallError extends Error {
  /** 0 where no answer came: the server was stopped, or the call was given up. */
  readonly status: number;
  readonly words: ErrorWords;

  /** @param cause what was thrown, where no answer came. */
  constructor(status: number, words: ErrorWords, cause?: unknown) {
    const where = words.place === null ? "" : placeText(words.place);
    super(`${words.problem}${where === "" ? "" : ` (${where})`}. ${words.fix}.`, { cause });
    this.name = "CallError";
    this.status = status;
    this.words = words;
  }
}

/** How a call is made. */
export interface CallOptions {
  /** Gives the call up. */
  readonly signal?: AbortSignal;
  /** Asked in place of the browser's own; tests add cookie and address here. */
  readonly fetch?: (address: string, init: RequestInit) => Promise<Response>;
}

/** Call the server. Runs wherever there is `fetch`; answers are taken as they come, since the server is of the same
 *  build.
 *  @throws CallError if the server refuses, or does not answer.
 */
export async function callApi<Name extends CallName>(
  name: Name,
  request: Calls[Name]["request"],
  options: CallOptions = {},
): Promise<Calls[Name]["answer"]> {
  const { method, sends, gives } = ENDPOINTS[name] as Endpoint;
  const { body, bytes, ...words } = request as Record<string, unknown>;
  const ask = options.fetch ?? ((address: string, init: RequestInit) => fetch(address, init));
  const init: RequestInit = { method, credentials: "same-origin" };
  if (options.signal !== undefined) init.signal = options.signal;
  if (sends === "json") {
    init.body = JSON.stringify(body);
    init.headers = { "Content-Type": "application/json" };
  } else if (sends === "bytes") {
    init.body = bytes as ArrayBuffer;
    init.headers = { "Content-Type": "application/octet-stream" };
  }
  let answer: Response;
  try {
    answer = await ask(addressOf(name, words as Record<string, string | number | undefined>), init);
  } catch (error) {
    throw new CallError(0, noAnswer(error), error);
  }
  if (!answer.ok) throw new CallError(answer.status, await wordsOf(answer));
  return (gives === "bytes" ? await answer.arrayBuffer() : await answer.json()) as Calls[Name]["answer"];
}

async function wordsOf(answer: Response): Promise<ErrorWords> {
  try {
    return ((await answer.json()) as AnswerError).error;
  } catch {
    return {
      code: "FAULT",
      problem: `the server answered with status ${answer.status}`,
      fix: "Load the page again",
      place: null,
    };
  }
}

function noAnswer(error: unknown): ErrorWords {
  const isGivenUp = error instanceof Error && error.name === "AbortError";
  return {
    code: "FAULT",
    problem: isGivenUp ? "the call was given up" : "the server does not answer",
    fix: isGivenUp
      ? "Do it again if it is still wanted"
      : "Look whether faultglow bench still runs, and start it again",
    place: null,
  };
}
