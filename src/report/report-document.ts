// report: the pieces that a report is made of, the same for the page and for paper.
import type { Plot } from "./plot.js";

/** Shapes beside words, so that a mark reads without colour. */
export type MarkShape =
  | "square"
  | "down"
  | "up"
  | "ring"
  | "disc"
  | "gap"
  | "wave"
  | "dash"
  | "cross"
  | "plus";

/** A cell: text, sentences under each other, or a word with its shape. */
export type DocumentCell = string | readonly string[] | { readonly mark: MarkShape; readonly text: string };

/** A column of a table. */
export interface DocumentColumn {
  readonly title: string;
  /** `number` stands right on one line, `whole` left on one line; `words` takes the room that is left; `hash` is small
   *  and may break anywhere. */
  readonly as?: "number" | "whole" | "words" | "hash";
}

/** One piece of a report. Every text in it is plain text. */
export type DocumentBlock =
  | { readonly kind: "heading"; readonly level: 2 | 3; readonly text: string }
  | {
      readonly kind: "paragraph";
      readonly text: string;
      readonly tone?: "verdict" | "quiet" | "warning" | "strong";
    }
  | { readonly kind: "next"; readonly label: string; readonly text: string }
  | { readonly kind: "list"; readonly items: readonly string[] }
  | {
      readonly kind: "facts";
      readonly label: string;
      readonly rows: readonly (readonly [string, string])[];
    }
  | {
      readonly kind: "table";
      readonly label: string;
      readonly columns: readonly DocumentColumn[];
      readonly rows: readonly (readonly DocumentCell[])[];
    }
  | {
      /** Plots of one size side by side; where they don't fit, under each other. */
      readonly kind: "plots";
      readonly label: string;
      readonly figures: readonly DocumentFigure[];
    };

/** A plot with its words. */
export interface DocumentFigure {
  readonly plot: Plot;
  /** Above the plot. */
  readonly title: string;
  /** Under it, a line each. */
  readonly lines: readonly string[];
}

/** A whole report. */
export interface ReportDocument {
  readonly title: string;
  readonly subtitle: string;
  /** When the last thing in it was noted; stands in the PDF as its date, so that the same job gives the same bytes. */
  readonly at: Date;
  readonly foot: string;
  readonly blocks: readonly DocumentBlock[];
}

/** All texts of a document, for whoever needs to know its letters beforehand. */
export function documentTexts(document: ReportDocument): string[] {
  const texts = [document.title, document.subtitle, document.foot];
  collect(document.blocks, texts);
  return texts;
}

function collect(value: unknown, texts: string[]): void {
  if (typeof value === "string") texts.push(value);
  else if (Array.isArray(value)) for (const each of value) collect(each, texts);
  else if (value !== null && typeof value === "object" && !ArrayBuffer.isView(value))
    collect(Object.values(value), texts);
}
