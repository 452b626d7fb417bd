// evaluate: sources, one constant of them changed → the tool's `analyse` made of them.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { compileFunction } from "node:vm";
import { build, type Plugin } from "esbuild";
import { PROJECT } from "../../structure/project.js";
import type { Analyse } from "../tool-chain.js";
import { KEPT_STAGES, type KeptStage, type StageKeeper } from "./kept-stages.js";
import { replaceConstant } from "./replace-constant.js";

/** A constant with other numbers. */
export interface Change {
  readonly path: string;
  readonly name: string;
  readonly to: readonly number[];
}

const FINDINGS = join(PROJECT, "src/findings");
const NAMES = Object.keys(KEPT_STAGES) as KeptStage[];

/** Make `analyse` of the sources as they are, or with a constant changed; the kept stages go through the keeper. */
export async function makeAnalyse(change: Change | null, keeper: StageKeeper): Promise<Analyse> {
  const { outputFiles } = await build({
    entryPoints: [join(FINDINGS, "analyse.ts")],
    bundle: true,
    platform: "node",
    format: "cjs",
    write: false,
    logLevel: "silent",
    plugins: [...(change === null ? [] : [withChange(change)]), throughKeeper()],
  });
  const bundle = { exports: {} as { analyse: Analyse } };
  // Unlike a module that is imported, a function is forgotten with its run.
  compileFunction(outputFiles[0]!.text, ["module", "require", "KEEPER"])(
    bundle,
    process.getBuiltinModule,
    keeper,
  );
  return bundle.exports.analyse;
}

/** Which of the kept stages each file has a part in. */
export async function stageFiles(): Promise<ReadonlyMap<KeptStage, ReadonlySet<string>>> {
  const all = await Promise.all(
    NAMES.map(async (name): Promise<[KeptStage, ReadonlySet<string>]> => {
      const { metafile } = await build({
        entryPoints: [join(FINDINGS, `${KEPT_STAGES[name]}.ts`)],
        bundle: true,
        platform: "node",
        write: false,
        metafile: true,
        // What is not called is left out, frozen tables too: files of which nothing is left have no part.
        pure: ["Object.freeze"],
        logLevel: "silent",
        absWorkingDir: PROJECT,
      });
      const { inputs } = Object.values(metafile.outputs)[0]!;
      return [name, new Set(Object.keys(inputs).filter((path) => inputs[path]!.bytesInOutput > 0))];
    }),
  );
  return new Map(all);
}

function withChange({ path, name, to }: Change): Plugin {
  return {
    name: "with-change",
    setup: ({ onLoad }) => {
      onLoad({ filter: /\.ts$/ }, (file) =>
        file.path === join(PROJECT, path)
          ? { contents: replaceConstant(readFileSync(file.path, "utf8"), name, to), loader: "ts" }
          : null,
      );
    },
  };
}

/** In the place of a stage's file, as `analyse` imports it, stands one that asks the keeper. */
function throughKeeper(): Plugin {
  return {
    name: "through-keeper",
    setup: ({ onResolve, onLoad }) => {
      onResolve({ filter: /^\.\// }, ({ path, importer }) => {
        const stage = NAMES.find((name) => path === `./${KEPT_STAGES[name]}.js`);
        return stage !== undefined && importer === join(FINDINGS, "analyse.ts")
          ? { path: stage, namespace: "kept" }
          : null;
      });
      onLoad({ filter: /.*/, namespace: "kept" }, ({ path }) => ({
        contents: `import { ${path} as work } from "./${KEPT_STAGES[path as KeptStage]}.js";
          export const ${path} = (...given) => KEEPER.${path}(work, given);`,
        resolveDir: FINDINGS,
      }));
    },
  };
}
