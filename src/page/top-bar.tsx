// page: the settings → the bar at the top: where you are, and how numbers and colours are shown.
import { jobState } from "./state/job-data.js";
import { route } from "./state/route.js";
import { isConnected } from "./state/server-events.js";
import { decimalMark, type Theme, temperature, theme } from "./state/settings.js";

/** The bar at the top of every page. */
export function TopBar() {
  const isJob = route.value.page === "job";
  return (
    <header class="top-bar">
      <a class="home" href="#/" aria-current={isJob ? undefined : "page"}>
        <Mark />
        <span>faultglow</span>
      </a>
      {isJob && jobState.value !== null && <span class="where">{jobState.value.header.device}</span>}
      {!isConnected.value && (
        <span class="chip bad" role="status">
          The server does not answer. Start faultglow bench again; nothing on this page is lost.
        </span>
      )}
      <fieldset class="settings">
        <legend class="hidden">How things are shown</legend>
        <label>
          <span class="hidden">Colours</span>
          <select
            value={theme.value}
            onChange={(event) => {
              theme.value = event.currentTarget.value as Theme;
            }}
          >
            <option value="auto">Colours as the machine</option>
            <option value="light">Light</option>
            <option value="dark">Dark</option>
          </select>
        </label>
        <label>
          <span class="hidden">Unit of temperatures</span>
          <select
            value={temperature.value}
            onChange={(event) => {
              temperature.value = event.currentTarget.value === "F" ? "F" : "C";
            }}
          >
            <option value="C">°C</option>
            <option value="F">°F</option>
          </select>
        </label>
        <label>
          <span class="hidden">Decimal mark</span>
          <select
            value={decimalMark.value}
            onChange={(event) => {
              decimalMark.value = event.currentTarget.value === "," ? "," : ".";
            }}
          >
            <option value=".">0.5</option>
            <option value=",">0,5</option>
          </select>
        </label>
      </fieldset>
    </header>
  );
}

/** A board with one warm place. */
function Mark() {
  return (
    <svg viewBox="0 0 20 20" width="20" height="20" aria-hidden="true">
      <path class="mark-board" d="M2 4h12l4 4v8H2z" />
      <circle class="mark-glow" cx="8" cy="11" r="3.2" />
    </svg>
  );
}
