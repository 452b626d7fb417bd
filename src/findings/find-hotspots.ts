// findings: frames, board and view → the findings alone.
import { analyse } from "./analyse.js";
import type { AnalyseOptions, AnalysisInput } from "./analyse-options.js";
import type { Findings } from "./findings-schema.js";

/** Find the hotspots of one attempt and rank the parts that may cause them.
 *  The same computation as `analyse`, for callers that want no pictures.
 *  @throws ToolError as `analyse`.
 */
export function findHotspots(input: AnalysisInput, options: Partial<AnalyseOptions> = {}): Findings {
  return analyse(input, options).findings;
}
