// cli: the search path and the usual places → a browser that can show the page, if there is one.
import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

/** Where and how to look: the process's own, unless a test says otherwise. */
export interface BrowserSearch {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly isThere: (path: string) => boolean;
}

/** Names on the search path of Linux and other Unix systems. */
const COMMANDS = [
  ...["firefox", "firefox-esr", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable"],
  ...["microsoft-edge", "microsoft-edge-stable", "epiphany", "falkon"],
];

const MAC_PLACES = [
  "/Applications/Safari.app",
  "/Applications/Firefox.app",
  "/Applications/Google Chrome.app",
  "/Applications/Chromium.app",
  "/Applications/Microsoft Edge.app",
];

/** Below the folders for programs. */
const WINDOWS_PLACES = [
  ["Microsoft", "Edge", "Application", "msedge.exe"],
  ["Mozilla Firefox", "firefox.exe"],
  ["Google", "Chrome", "Application", "chrome.exe"],
];

/** Find a browser. It may still be too old: the page needs one of the last three years.
 *  @returns its path; null if none stands where browsers usually do. */
export function findBrowser(search: BrowserSearch = ownSearch()): string | null {
  const { platform, env, isThere } = search;
  const places =
    platform === "darwin"
      ? MAC_PLACES
      : platform === "win32"
        ? ["ProgramFiles", "ProgramFiles(x86)", "LocalAppData"].flatMap((name) =>
            WINDOWS_PLACES.map((parts) => join(env[name] ?? "C:\\Program Files", ...parts)),
          )
        : COMMANDS.flatMap((name) =>
            (env["PATH"] ?? "")
              .split(delimiter)
              .filter(Boolean)
              .map((folder) => join(folder, name)),
          );
  return places.find(isThere) ?? null;
}

function ownSearch(): BrowserSearch {
  return { platform: process.platform, env: process.env, isThere: canRun };
}

function canRun(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
