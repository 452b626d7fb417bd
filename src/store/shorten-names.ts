// store: paths of files → names as short as tells them apart.

/** Shorten paths: the file's own name, with as many of the folders above it as it takes to tell them apart. What stands
 *  further up (a home folder, a customer's name) is nobody's business who gets the job.
 *  @param paths each as given; the same path may come twice and gets the same name.
 *  @returns names with `/`, in the order of the paths.
 */
export function shortenNames(paths: readonly string[]): string[] {
  const parts = paths.map((path) => path.split(/[\\/]+/).filter((part) => part !== "" && part !== "."));
  for (let depth = 1; ; depth++) {
    const names = parts.map((steps) => steps.slice(-depth).join("/"));
    const different = new Set(parts.map((steps) => steps.join("/"))).size;
    if (new Set(names).size === different || parts.every((steps) => steps.length <= depth)) return names;
  }
}
