// bench: an input of the bench as JSON → milliseconds each stage took in a process that has run nothing before, as
// JSON. The library's files are used, one for each source file, so that a sample of the profile tells its stage.
import { Session } from "node:inspector/promises";
import { analyse, parseBoardMap, parseView, readFrames } from "../../dist/index.js";
import { readJsonFile } from "../../dist/read/read-json-file.js";

const INTERVAL_US = 200;
/** Their time belongs to the stage that calls them. */
const SERVANTS = ["core", "numeric"];

const { files, rateHz, scale } = JSON.parse(process.argv[2]);
const session = new Session();
session.connect();
await session.post("Profiler.enable");
await session.post("Profiler.setSamplingInterval", { interval: INTERVAL_US });
await session.post("Profiler.start");
const { board } = parseBoardMap((await readJsonFile(files.board)).value, files.board);
const { view } = parseView((await readJsonFile(files.view)).value, files.view);
const reading = scale === null ? {} : { scale };
const baseline = (await readFrames(files.baseline, reading)).frames;
const powered = (await readFrames(files.powered, reading)).frames;
analyse({ baseline, powered, board, view, rateHz });
const { profile } = await session.post("Profiler.stop");
process.stdout.write(JSON.stringify(stageTimes(profile)));

/** Milliseconds by the folder of the innermost frame that belongs to a stage. */
function stageTimes({ nodes, samples, timeDeltas }) {
  const byId = new Map(nodes.map((node) => [node.id, node]));
  const parents = new Map(nodes.flatMap((node) => (node.children ?? []).map((child) => [child, node.id])));
  const stageOf = (id) => {
    for (let at = id; at !== undefined; at = parents.get(at)) {
      const { url, functionName } = byId.get(at).callFrame;
      if (functionName === "(idle)") return null;
      if (functionName === "(garbage collector)") return "garbage collection";
      const stage = /\/dist\/(\w+)\//.exec(url)?.[1];
      if (stage !== undefined && !SERVANTS.includes(stage)) return stage;
    }
    return "other";
  };
  const times = {};
  for (const [i, id] of samples.entries()) {
    const stage = stageOf(id);
    if (stage !== null) times[stage] = (times[stage] ?? 0) + timeDeltas[i] / 1000;
  }
  return times;
}
