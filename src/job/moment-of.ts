// job: a point in time → ISO 8601 with the offset of the place where it is written.

/** Word a moment to the second, with the local offset: `2031-03-01T09:05:00+01:00`. */
export function momentOf(date: Date): string {
  const offsetMin = -date.getTimezoneOffset();
  const local = new Date(date.getTime() + offsetMin * 60_000).toISOString().slice(0, 19);
  const [hours, minutes] = [Math.floor(Math.abs(offsetMin) / 60), Math.abs(offsetMin) % 60];
  const two = (n: number): string => String(n).padStart(2, "0");
  return `${local}${offsetMin < 0 ? "-" : "+"}${two(hours)}:${two(minutes)}`;
}
