// report: a plot → an SVG element for the page.
import { escapeHtml } from "./escape-html.js";
import type { Plot, PlotItem, PlotPath, PlotPoint, PlotText } from "./plot.js";

/** Draw a plot as SVG that scales with the page. Texts are text, names in them are escaped.
 *  @param id unlike the ids of other plots of the page: clips are found by it.
 */
export function plotToSvg(plot: Plot, id: string): string {
  const clips = { count: 0 };
  const body = plot.items.map((item) => itemSvg(item, id, clips)).join("");
  const size = `${number(plot.width)} ${number(plot.height)}`;
  return `<svg role="img" aria-label="${escapeHtml(plot.description)}" viewBox="0 0 ${size}" width="${number(plot.width)}pt" height="${number(plot.height)}pt">${body}</svg>`;
}

function itemSvg(item: PlotItem, id: string, clips: { count: number }): string {
  if (item.kind === "path") return pathSvg(item);
  if (item.kind === "text") return textSvg(item);
  clips.count++;
  const name = `${id}-c${clips.count}`;
  const inner = item.items.map((each) => itemSvg(each, id, clips)).join("");
  return `<clipPath id="${name}"><path d="${pathData([item.ring], true)}"/></clipPath><g clip-path="url(#${name})">${inner}</g>`;
}

function pathSvg({ rings, closed, fill, stroke, width, dash }: PlotPath): string {
  const attributes = [
    `d="${pathData(rings, closed)}"`,
    `fill="${fill ?? "none"}"`,
    ...(fill === undefined || rings.length < 2 ? [] : ['fill-rule="evenodd"']),
    ...(stroke === undefined
      ? []
      : [`stroke="${stroke}" stroke-width="${number(width ?? 1)}" stroke-linejoin="round"`]),
    ...(dash === undefined ? [] : [`stroke-dasharray="${dash.map(number).join(" ")}"`]),
  ];
  return `<path ${attributes.join(" ")}/>`;
}

function textSvg({ at, text, size, anchor, bold, colour, halo }: PlotText): string {
  const attributes = [
    `x="${number(at[0])}" y="${number(at[1])}" font-size="${number(size)}" fill="${colour}"`,
    ...(anchor === "start" ? [] : [`text-anchor="${anchor}"`]),
    ...(bold ? ['font-weight="700"'] : []),
    ...(halo
      ? [`stroke="#ffffff" stroke-width="${number(size / 4)}" stroke-linejoin="round" paint-order="stroke"`]
      : []),
  ];
  return `<text ${attributes.join(" ")}>${escapeHtml(text)}</text>`;
}

function pathData(rings: readonly (readonly PlotPoint[])[], closed: boolean): string {
  return rings
    .map((ring) => `M${ring.map(([x, y]) => `${number(x)} ${number(y)}`).join("L")}${closed ? "Z" : ""}`)
    .join("");
}

/** Hundredths of a point are finer than any printer. */
function number(value: number): string {
  return String(Math.round(value * 100) / 100);
}
