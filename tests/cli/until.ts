// tests: a question that is asked again and again → done once the answer is yes.

/** Wait until something is so; the test's own time limit ends a wait in vain. */
export async function until(isSo: () => boolean | Promise<boolean>): Promise<void> {
  while (!(await isSo())) await new Promise((done) => setTimeout(done, 40));
}
