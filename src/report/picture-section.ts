// report: an analysis and its pictures → the section of report.html that shows them.
import { countOf } from "../core/count-of.js";
import type { Analysis } from "../findings/analysis.js";
import { viewWords } from "./describe-findings.js";
import { escapeHtml } from "./escape-html.js";

/** The picture, with a description for those who do not see it. */
export function pictureSection({ findings, view }: Analysis, overlayPng: Uint8Array): string {
  const hotspots = findings.hotspots.length;
  const shown = findings.suspects.slice(0, 3).map((suspect) => suspect.ref);
  const alt =
    `Baseline frame in grey with the rise in colour where it is significant${view === null ? "" : ", board outline and parts"}; ` +
    `${hotspots === 0 ? "no hotspots" : countOf(hotspots, "hotspot")}${shown.length === 0 ? "" : `, first suspects: ${shown.join(", ")}`}. ` +
    "The tables below give all of it in numbers.";
  const side = view === null ? "" : ` Seen from the ${view.side} side.`;
  const caption =
    "Grey: the baseline frame. Colour: the rise where it stands out of the noise." +
    ` Crosses: sources of heat. Dashed frames: parts that are warm on a healthy board too. Dashed rings: no heat, see below.${side}`;
  return figure("Picture", overlayPng, alt, caption);
}

/** The picture of the second view. */
export function otherPictureSection({ findings }: Analysis, overlayPng: Uint8Array): string {
  const words = viewWords(findings, "other");
  const side = findings.otherSide?.side ?? "other";
  const alt = `The same attempt in the ${words}: baseline frame in grey with the rise in colour where it is significant, board outline and parts of the ${side} side.`;
  const caption = `The ${words}, in the same way: seen from the ${side} side.`;
  return figure("Picture of the other view", overlayPng, alt, caption);
}

/** On a narrow screen the whole picture has letters too small to be read: a tick shows it at its own size, without a
 *  script. */
function figure(name: string, png: Uint8Array, alt: string, caption: string): string {
  const data = Buffer.from(png).toString("base64");
  return `<figure><label class="larger"><input type="checkbox"> Full size, to be moved sideways</label><div class="scroll" role="region" tabindex="0" aria-label="${escapeHtml(name)}"><img src="data:image/png;base64,${data}" alt="${escapeHtml(alt)}"></div><figcaption>${escapeHtml(caption)}</figcaption></figure>`;
}
