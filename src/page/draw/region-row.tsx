// page: an outline or region → its row in the table, made anew only where it changed.
import { Component } from "preact";
import type { Polygon } from "../../board/polygon.js";
import { decimalMark, showNumber } from "../state/settings.js";
import type { DrawnRegion } from "./model/drawing.js";
import { middleOf, mmText, saySize } from "./model/say-shape.js";

interface RegionRowProps {
  /** Null: the outline. */
  readonly region: DrawnRegion | null;
  readonly polygon: Polygon;
  readonly isChosen: boolean;
  readonly isHeld: boolean;
  readonly isWrong: boolean;
  /** True for the one row that Tab goes to. */
  readonly isStop: boolean;
}

/** A row; its table listens to the keys. */
export class RegionRow extends Component<RegionRowProps> {
  private mark = "";

  override shouldComponentUpdate(next: RegionRowProps): boolean {
    const now = this.props;
    const isSame =
      now.region === next.region &&
      now.polygon === next.polygon &&
      now.isChosen === next.isChosen &&
      now.isHeld === next.isHeld &&
      now.isWrong === next.isWrong &&
      now.isStop === next.isStop &&
      this.mark === decimalMark.peek();
    return !isSame;
  }

  override render({ region, polygon, isChosen, isHeld, isWrong, isStop }: RegionRowProps) {
    this.mark = decimalMark.value;
    const isEmpty = polygon.length === 0;
    const size = isEmpty
      ? ""
      : saySize(polygon)
          .replace(" mm", "")
          .replace(", turned by", ",")
          .replace(/, 4 corners$/, "");
    return (
      <tr
        class={`${isChosen ? "chosen" : ""}${isHeld ? " held" : ""}`}
        tabIndex={isStop ? 0 : -1}
        aria-selected={isChosen}
      >
        <th scope="row">
          {isWrong && <span title="has a problem">⚠ </span>}
          {region === null ? "Outline" : region.ref || "(no ref)"}
        </th>
        <td class="draw-words" title={region?.label ?? ""}>
          {region?.label ?? ""}
        </td>
        <td>{region?.side ?? ""}</td>
        <td>{isEmpty ? "" : showNumber(middleOf(polygon).map(mmText).join(", "))}</td>
        <td class="draw-size">{isEmpty ? "not drawn yet" : showNumber(bindSize(size))}</td>
      </tr>
    );
  }
}

/** Width and height stay on one line; what is said after them may go below. */
function bindSize(size: string): string {
  return size.replaceAll(" × ", "\u00a0×\u00a0").replace(/ (?=corners$)/, "\u00a0");
}
