// page: a baseline → how it is placed on the board, and the ways to place it.
import { useEffect, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { InboxFile } from "../../api/inbox-schema.js";
import type { JobState } from "../../api/jobs-schema.js";
import { formatSignificant } from "../../core/format-quantity.js";
import { announceError } from "../state/announce.js";
import { keepPlacedView, loadPlacedView, placedView } from "../state/placed-views.js";
import { sectionHash } from "../state/route.js";
import { showNumber } from "../state/settings.js";

interface PlacingLineProps {
  readonly state: JobState;
  readonly baseline: InboxFile;
  /** Files are still being sent or read: the first baseline may yet be another one. */
  readonly isComing: boolean;
}

/** Say how the baseline sees the board. Where an earlier attempt has a view, the placing by it is tried by itself. */
export function PlacingLine({ state, baseline, isComing }: PlacingLineProps) {
  const [doubt, setDoubt] = useState<string | null>(null);
  const [isBusy, setBusy] = useState(false);
  const placed = placedView(state.id, baseline.sha256);
  const hasEarlier = state.attempts.some(({ views }) => views.some((view) => view !== null));
  const hasBoard = state.boards.length > 0;
  useEffect(() => {
    setDoubt(null);
    if (isComing) return;
    loadPlacedView(state.id, baseline.sha256)
      .then((known) => (known === null && hasEarlier ? placeByEarlier() : undefined))
      .catch(announceError);
  }, [state.id, baseline.sha256, hasEarlier, isComing]);
  const placeByEarlier = async (): Promise<void> => {
    setBusy(true);
    try {
      const found = await callApi("place", { job: state.id, body: { frame: baseline.sha256 } });
      if (found.view !== null && found.trusted) {
        await keepPlacedView(state.id, baseline.sha256, {
          view: found.view,
          board: null,
          by: "attempt",
          sigmaMm: found.sigmaMm,
        });
      } else setDoubt(found.reason ?? "no earlier attempt looks like it");
    } finally {
      setBusy(false);
    }
  };
  if (isBusy) return <p class="placing">Looking where the board lies, by an earlier attempt …</p>;
  const draw = <a href={sectionHash(state.id, "board")}>{hasBoard ? "Set fiducials" : "Draw the board"}</a>;
  if (placed !== null) {
    const sigma = placed.sigmaMm === null ? "" : ` (± ${formatSignificant(placed.sigmaMm, 1)} mm)`;
    const by = { fiducials: "by its fiducials", attempt: "by an earlier attempt", file: "by a dropped view" };
    return (
      <p class="placing">
        <span aria-hidden="true">✓</span> {baseline.names[0]} is placed on the board {by[placed.by]}
        {showNumber(sigma)}. {draw}
      </p>
    );
  }
  return (
    <p class="placing">
      {hasBoard
        ? `It is not known yet where the board lies in ${baseline.names[0]}, so parts can't be named. `
        : "Without a board map, places are named in pixels and parts can't be told. "}
      {doubt !== null && `Placing it by an earlier attempt is in doubt: ${doubt}. `}
      {draw}
    </p>
  );
}
