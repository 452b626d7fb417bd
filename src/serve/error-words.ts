// serve: an error ↔ its words, as they go to the page and between processes.
import type { ErrorWords } from "../api/answer-error-schema.js";
import { dropUndefined } from "../core/drop-undefined.js";
import { ERROR_CODES, type ErrorCode, ToolError } from "../core/errors.js";

/** Word an error. Of a fault of ours no more is told than that it is one: its stack goes to the terminal. */
export function errorWords(error: unknown): ErrorWords {
  if (error instanceof ToolError) {
    const { problem, fix, place } = error.parts;
    return { code: error.code, problem, fix, place: place === undefined ? null : dropUndefined(place) };
  }
  return {
    code: "FAULT",
    problem: "faultglow failed, through a fault of its own",
    fix: "What it said is in the terminal where the bench runs; report it with what you did",
    place: null,
  };
}

/** The error that words came from. */
export function wordsError(words: ErrorWords): Error {
  if (!(words.code in ERROR_CODES)) return new Error(words.problem);
  const { problem, fix, place } = words;
  return new ToolError(words.code as ErrorCode, { problem, fix, ...(place === null ? {} : { place }) });
}
