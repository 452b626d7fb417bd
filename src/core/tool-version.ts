// core: – → the version of this tool, which every file that it writes carries.

/** Version of the tool. A test of the structure holds it against package.json, which a browser can't read. */
export const TOOL_VERSION = "0.1.0";
