// serve: the name of a piece of work and what it is given → the work, loaded only when it is asked for.
import type { DoWork, WorkName } from "./works.js";

const WORKS: { readonly [Name in WorkName]: () => Promise<DoWork<Name>> } = {
  ready: async () => {
    await Promise.all([import("./read-dropped.js"), import("./dropped-pictures.js")]);
    // What was read is analysed next, by this process if it can be: its code is loaded while nobody waits.
    setTimeout(() => void import("./add-to-job.js"), PRELOAD_MS).unref();
    return async () => null;
  },
  readDropped: async () => (await import("./read-dropped.js")).readDropped,
  droppedFrame: async () => (await import("./dropped-pictures.js")).droppedFrame,
  droppedPhoto: async () => (await import("./dropped-pictures.js")).droppedPhoto,
  readWatched: async () => (await import("./read-watched-file.js")).readWatchedFile,
  place: async () => (await import("./place-baseline.js")).placeBaseline,
  pictures: async () => (await import("./attempt-pictures.js")).attemptPictures,
  course: async () => (await import("./attempt-course.js")).attemptCourse,
  attempt: async () => (await import("./add-to-job.js")).addDropped,
  ahead: async () => (await import("./add-to-job.js")).analyseDropped,
  sample: async () => (await import("./add-to-job.js")).addSample,
  report: async () => (await import("./report-job.js")).reportJob,
  pack: async () => (await import("./report-job.js")).packToFile,
};

/** Loading that is not asked for keeps out of the way of the first picture, ms. */
const PRELOAD_MS = 500;

/** Do a piece of work in this process. */
export const doWork = async <Name extends WorkName>(
  name: Name,
  ...[input, options]: Parameters<DoWork<Name>>
): Promise<Awaited<ReturnType<DoWork<Name>>>> => {
  const work = (await WORKS[name]()) as DoWork<Name>;
  return (await work(input, options)) as Awaited<ReturnType<DoWork<Name>>>;
};
