// rise: a course of many frames → one of few values, each the mean of as many neighbours.

/** Heights over time, each with its own noise. */
export interface HeightCourse {
  readonly timesS: ArrayLike<number>;
  readonly riseK: ArrayLike<number>;
  readonly sigmaK: ArrayLike<number>;
}

/** Average neighbours so that at most `most` values are left; a course that is short enough stays as it is.
 *  The last value may be the mean of fewer. Noise falls with the root of their number.
 *  @param most above 0.
 */
export function shortenCourse(course: HeightCourse, most: number): HeightCourse {
  const count = course.timesS.length;
  const group = Math.ceil(count / most);
  if (group <= 1) return course;
  const length = Math.ceil(count / group);
  const timesS = new Float64Array(length);
  const riseK = new Float64Array(length);
  const sigmaK = new Float64Array(length);
  for (let n = 0; n < length; n++) {
    const from = n * group;
    const to = Math.min(count, from + group);
    let square = 0;
    for (let k = from; k < to; k++) {
      timesS[n]! += course.timesS[k]! / (to - from);
      riseK[n]! += course.riseK[k]! / (to - from);
      square += course.sigmaK[k]! ** 2;
    }
    sigmaK[n] = Math.sqrt(square) / (to - from);
  }
  return { timesS, riseK, sigmaK };
}
