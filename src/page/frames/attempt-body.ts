// page: frames, what was typed and how the baselines are placed → the request that makes an attempt of them.
import type { Calls } from "../../api/calls.js";
import type { InboxFile } from "../../api/inbox-schema.js";
import type { PlacedBaseline } from "../state/placed-views.js";
import { readConditions, type TypedConditions } from "./conditions.js";
import type { SortedInbox } from "./sort-frames.js";

/** Body of the request for an attempt. */
export type AttemptBody = Calls["makeAttempt"]["request"]["body"];

/** What an attempt is made of. */
export interface AttemptParts {
  readonly baseline: readonly InboxFile[];
  readonly powered: readonly InboxFile[];
  /** Frames of the other view; null: there is none. */
  readonly other: SortedInbox["other"] | null;
  readonly typed: TypedConditions;
  /** How the first baseline of each view sees the board; null: not placed. */
  readonly placed: PlacedBaseline | null;
  readonly otherPlaced: PlacedBaseline | null;
  /** Name of the job's latest board; null: it has none. */
  readonly board: string | null;
}

/** Put the request together.
 *  @returns the body, or the name of the first field that can't be understood. */
export function attemptBody(parts: AttemptParts): { readonly ok: AttemptBody } | { readonly wrong: string } {
  const { baseline, powered, other, typed, placed, otherPlaced } = parts;
  const read = readConditions(typed, countFrames(powered));
  if ("wrong" in read) return read;
  const board = placed?.board ?? parts.board;
  const isPlaced = placed !== null && board !== null;
  const hasOther = other !== null && otherPlaced !== null && other.baseline.length > 0;
  return {
    ok: {
      baseline: hashesOf(baseline),
      powered: hashesOf(powered),
      ...(isPlaced ? { view: placed.view, board } : {}),
      ...(hasOther
        ? {
            other: {
              baseline: hashesOf(other.baseline),
              powered: hashesOf(other.powered),
              view: otherPlaced.view,
            },
          }
        : {}),
      ...read.ok,
    },
  };
}

/** What may be analysed before anybody asks: an attempt to which most probably nothing is added. Its parts can be
 *  named, and a burst has its rate.
 *  @returns null where more is to be said first. */
export function bodyAhead(parts: AttemptParts): AttemptBody | null {
  if (parts.placed === null || (countFrames(parts.powered) > 1 && parts.typed.rateHz.trim() === ""))
    return null;
  const body = attemptBody(parts);
  return "ok" in body && body.ok.view !== undefined ? body.ok : null;
}

/** How many frames files hold. */
export function countFrames(files: readonly InboxFile[]): number {
  return files.reduce((sum, { frame }) => sum + (frame?.frames ?? 1), 0);
}

function hashesOf(files: readonly InboxFile[]): string[] {
  return files.map(({ sha256 }) => sha256);
}
