// bench: – → the Python that the peers run in.
import { existsSync } from "node:fs";

/** Where the system keeps its own libraries; else whatever Python comes first. */
export const PYTHON = existsSync("/usr/bin/python3") ? "/usr/bin/python3" : "python3";
