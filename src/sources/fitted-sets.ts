// sources: sets of candidates, in their order → what came of each.

/** What came of a set; null where it was not fitted yet. */
interface Known<Fit> {
  fit: Fit | null;
}

interface Branch<One, Fit> extends Known<Fit> {
  and: Map<One, Branch<One, Fit>> | null;
}

/** A tree: each set goes on from the one without its last. */
export class FittedSets<One, Fit> {
  private readonly root: Branch<One, Fit> = { fit: null, and: null };

  /** Look a set up; other orders are other sets. */
  of(set: readonly One[]): Known<Fit> {
    let at = this.root;
    for (const one of set) {
      at.and ??= new Map();
      let next = at.and.get(one);
      if (next === undefined) {
        next = { fit: null, and: null };
        at.and.set(one, next);
      }
      at = next;
    }
    return at;
  }
}
