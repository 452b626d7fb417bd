// page: small boards side by side → lines from a part on one board to the same part on the next.
import type { JobState } from "../../api/jobs-schema.js";
import { fitStage, stageToScreen } from "../board/make-stage.js";
import type { CardSize } from "./card.js";
import type { Join } from "./join-changes.js";
import type { SmallPicture } from "./small-board.js";

interface JoinLinesProps {
  readonly attempts: JobState["attempts"];
  readonly joins: readonly Join[];
  readonly pictures: ReadonlyMap<number, SmallPicture>;
  readonly card: CardSize;
}

/** How far into the gap a line goes whose heat is gone, or came from nowhere, as a share of it. */
const STUB = 0.24;
/** Half the size of the mark at its end, and the dot on a part, as shares of the same. */
const ARM = 0.028;
const DOT = 0.016;

/** Lines over the strip. What they say stands in words between the boards. */
export function JoinLines({ attempts, joins, pictures, card }: JoinLinesProps) {
  const step = card.width + card.gap;
  const width = attempts.length * step - card.gap;
  const stub = STUB * card.gap;
  const arm = ARM * card.gap;
  return (
    <svg class="join-lines" width={width} height={card.height} aria-hidden="true">
      {joins.flatMap((join, i) => {
        const [left, right] = [pictures.get(join.before), pictures.get(join.after)];
        if (left === undefined || right === undefined) return [];
        return join.parts.flatMap((part) => {
          const { at, ref, side, change } = part;
          if (at === null || side !== left.picture.stage.side || side !== right.picture.stage.side) return [];
          const [x1, y1] = place(left, i * step, at, card);
          const [x2, y2] = place(right, (i + 1) * step, at, card);
          const end = i * step + card.width + stub;
          const start = (i + 1) * step - stub;
          const d =
            change === "gone"
              ? `M${x1} ${y1}L${end} ${y1}m${-arm} ${-arm}l${2 * arm} ${2 * arm}m0 ${-2 * arm}l${-2 * arm} ${2 * arm}`
              : change === "new"
                ? `M${start - arm} ${y2}h${2 * arm}m${-arm} ${-arm}v${2 * arm}M${start} ${y2}L${x2} ${y2}`
                : `M${x1} ${y1}L${x2} ${y2}`;
          return [
            <g key={`${join.after} ${side} ${ref}`} class={`join ${change}`}>
              <path class="ground" d={d} />
              <path d={d} />
              {change !== "new" && <circle cx={x1} cy={y1} r={DOT * card.gap} />}
              {change !== "gone" && <circle cx={x2} cy={y2} r={DOT * card.gap} />}
            </g>,
          ];
        });
      })}
    </svg>
  );
}

function place(
  small: SmallPicture,
  left: number,
  at: readonly [number, number],
  card: CardSize,
): readonly [number, number] {
  const { stage } = small.picture;
  const fit = fitStage(stage, { x: 0, y: 0, ...card });
  const [x, y] = stageToScreen(stage, fit, at);
  return [x + left, y];
}
