// Works on a job folder and dies in the middle of it, as if by kill -9: the other half of kill.test.ts.
// node write-until-killed.mjs JOB FRAMES KIND STEP SHARE SEED VERSION: at the STEP-th step on the disk of that KIND
// ("any", or "append", which is the writing of lines), SHARE of what it writes is written, and the process kills
// itself; STEP 0: it works until it is killed from outside.
import { writeSync } from "node:fs";
import { join } from "node:path";
import { addAttempt } from "../../dist/store/add-attempt.js";
import { appendSaid } from "../../dist/store/append-said.js";
import { DISK } from "../../dist/store/storage.js";

const [job, frames, kind, stepWord, shareWord, seedWord, toolVersion] = process.argv.slice(2);
const [step, share, seed] = [stepWord, shareWord, seedWord].map(Number);
let steps = 0;

const die = () => {
  process.kill(process.pid, "SIGKILL");
  // The signal comes when it comes: nothing more may happen until then.
  for (;;);
};
const part = (bytes) => bytes.subarray(0, Math.floor(bytes.length * share));
const storage = Object.fromEntries(
  Object.entries(DISK).map(([name, work]) => [
    name,
    async (...words) => {
      const counts = kind === "any" ? !["read", "list"].includes(name) : name === kind;
      if (!counts || ++steps !== step) return work(...words);
      if (name === "create" || name === "append") await work(words[0], part(words[1]));
      else if (share > 0.5) await work(...words);
      return die();
    },
  ]),
);
const options = { storage, toolVersion };

/** What was promised to have been said; written at once, so that it outlives the process. */
const say = (line) => writeSync(1, `${line}\n`);
say("ready");
for (let i = seed; ; i++) {
  if (i % 4 === 3) {
    const conditions = { remark: `attempt of ${i}` };
    const request = { baseline: [join(frames, "off.csv")], powered: [join(frames, "on.csv")], conditions };
    const { attempt } = await addAttempt(job, request, options);
    say(`${attempt.seq} attempt ${attempt.attempt.number}`);
  } else {
    const texts = [`remark ${i} `.repeat(1 + (i % 50)), "Übergabe 交接"].slice(0, 1 + (i % 2));
    const said = texts.map((text) => ({ type: "remark", text }));
    for (const { seq } of await appendSaid(job, said, options)) say(`${seq} remark`);
  }
}
