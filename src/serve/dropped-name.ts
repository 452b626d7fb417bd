// serve: the name of a file as a browser gives it → a name that is shown, and one that may be given to a file.

/** Characters that don't show, or change the direction of what does: controls (C0, C1) and Unicode's bidi controls. */
const UNSEEN = /[\p{Cc}\p{Cf}\u2028\u2029]/gu;

/** Clean a name: folders divided by `/`, none of them `.` or `..`, nothing unseen.
 *  @returns "unnamed" where nothing is left. */
export function cleanName(given: string): string {
  const steps = given
    .normalize("NFC")
    .replaceAll("\\", "/")
    .replace(UNSEEN, "")
    .split("/")
    .map((step) => step.trim())
    .filter((step) => step !== "" && step !== "." && step !== "..");
  return steps.length === 0 ? "unnamed" : steps.join("/");
}

/** Names that Windows keeps for devices, with or without an ending. */
const DEVICES = /^(?:con|prn|aux|nul|com\d|lpt\d)(?:\.|$)/i;
const LONGEST = 120;

/** The last step of a name as it may be given to a file on any system. */
export function fileNameOf(name: string): string {
  const last = name.slice(name.lastIndexOf("/") + 1).replace(/[<>:"|?*]/g, "_");
  const dot = last.lastIndexOf(".");
  const ending = dot > 0 ? last.slice(dot).slice(0, 12) : "";
  const stem = (dot > 0 ? last.slice(0, dot) : last).slice(0, LONGEST - ending.length).replace(/^\.+/, "_");
  const whole = `${stem}${ending}`.replace(/[. ]+$/, "");
  return whole === "" || DEVICES.test(whole) ? `_${whole}` : whole;
}

/** Ending of a kept file: letters and digits of the name's own. */
export function endingOf(name: string): string {
  return (/\.[A-Za-z0-9]{1,8}$/.exec(name)?.[0] ?? ".bin").toLowerCase();
}
