// fuzz: values of good boards → tables of references in many styles, whole and damaged.
import { parseReadingTable } from "../../../src/readings/parse-reading-table.js";
import { referenceSchema } from "../../../src/readings/reading-schema.js";
import type { FuzzTarget } from "../fuzz-target.js";
import { mutateBytes } from "../mutate-bytes.js";

const SOUP = [
  "Net,Value\n", "Net,Pin,Mode,Expected,Tolerance\n", "VSYS", "C7.1", "diode", "resistance", "0.45", "OL", "3.2 Ω", "4k7", "0,45", "10%", "±0.02", ",", ";", "\t", "\n", '"', "1e999", "-", "Vcore;", "0.4-0.6", "\u0000", "\u202e", "yes", "mV", "°C",
]; // biome-ignore format: a list to be read across

/** Tables of what good boards show. */
export const referenceTables: FuzzTarget = {
  name: "references",
  make: (random) => {
    const rows = Array.from({ length: random.integer(1, 6) }, (_, i) => ({
      net: `VDD_${i}`,
      millivolts: random.integer(100, 900),
    }));
    const separator = random.pick([",", ";", "\t"]);
    const comma = separator !== "," && random.chance(0.3);
    const quoted = random.chance(0.3);
    const cells = rows.map(({ net, millivolts }) => [
      net,
      "diode",
      (millivolts / 1000).toFixed(3).replace(".", comma ? "," : "."),
    ]);
    const lines = [["Net", "Mode", "Value"], ...cells].map((row) =>
      row.map((cell) => (quoted ? `"${cell}"` : cell)).join(separator),
    );
    const bytes = new TextEncoder().encode(lines.join(random.pick(["\n", "\r\n"])));
    const turn = random.integer(0, 2);
    if (turn === 0) {
      const value = rows.map(({ net, millivolts }) => ({ net, measure: "diode", value: millivolts / 1000 }));
      return { what: "a whole table", bytes, expected: { sort: "equal", value } };
    }
    if (turn === 1)
      return { what: "bytes changed", bytes: mutateBytes(random, bytes), expected: { sort: "any" } };
    const text = Array.from({ length: random.integer(0, 40) }, () => random.pick(SOUP)).join("");
    return { what: "a soup of pieces", bytes: new TextEncoder().encode(text), expected: { sort: "any" } };
  },
  read: (bytes) => {
    const { references } = parseReadingTable(bytes, "f.csv");
    // What goes into a journal must come out of it.
    for (const reference of references) referenceSchema.parse(JSON.parse(JSON.stringify(reference)));
    return references.map(({ net, measure, value }) => ({ net, measure, value }));
  },
};
