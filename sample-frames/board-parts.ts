// sample-frames: the invented board, part by part.
import { type Point, turnedRectangle } from "../tests/simulate/polygons.js";
import type { Part, SimFinish, TrueBoard } from "../tests/simulate/scene.js";

/** One line of the list: where a part is, how large, and what it is. Sizes along the board's axes, mm. */
interface Line {
  readonly ref: string;
  readonly label: string;
  readonly kind: Part["kind"];
  readonly at: readonly [number, number];
  readonly size: readonly [number, number];
  readonly finish: SimFinish;
  readonly emissivity: number;
  readonly nets: readonly string[];
  readonly warm?: boolean;
}

function chip(ref: string, label: string, at: Line["at"], size: Line["size"], nets: readonly string[]): Line {
  return { ref, label, kind: "ic", at, size, finish: "moulded", emissivity: 0.93, nets };
}

function ceramic(ref: string, at: Line["at"], size: Line["size"], net: string): Line {
  return {
    ref,
    label: "capacitor",
    kind: "passive",
    at,
    size,
    finish: "ceramic",
    emissivity: 0.86,
    nets: [net, "GND"],
  };
}

function resistor(ref: string, at: Line["at"], size: Line["size"], nets: readonly string[]): Line {
  return { ref, label: "resistor", kind: "passive", at, size, finish: "coated", emissivity: 0.92, nets };
}

const TOP: readonly Line[] = [
  { ...chip("U1", "processor", [24, 16], [9, 9], ["VCORE", "V3"]), warm: true },
  { ...chip("U2", "power manager", [40.5, 9], [5, 5], ["VSYS", "V3", "VCORE"]), warm: true },
  chip("U3", "probe amplifier", [9.5, 8.2], [4, 3], ["VA"]),
  chip("U4", "converter", [10, 17.4], [4, 4], ["VA", "V3"]),
  chip("U5", "memory", [24.5, 27.6], [6.4, 5], ["V3"]),
  chip("U6", "pump driver", [50.2, 23.6], [3.2, 3.2], ["VSYS"]),
  {
    ref: "SH1",
    label: "radio shield",
    kind: "shield",
    at: [38.6, 25.4],
    size: [11, 9],
    finish: "bare-metal",
    emissivity: 0.12,
    nets: ["GND"],
  },
  {
    ref: "J1",
    label: "probe connector",
    kind: "connector",
    at: [2.9, 14.5],
    size: [3.4, 10],
    finish: "moulded",
    emissivity: 0.94,
    nets: ["VA", "GND"],
  },
  {
    ref: "J2",
    label: "charge connector",
    kind: "connector",
    at: [51.4, 3],
    size: [7.6, 4.2],
    finish: "bare-metal",
    emissivity: 0.18,
    nets: ["VIN", "GND"],
  },
  {
    ref: "L1",
    label: "boost coil",
    kind: "passive",
    at: [47.6, 10.6],
    size: [3, 3],
    finish: "coated",
    emissivity: 0.9,
    nets: ["VSYS"],
  },
  {
    ref: "L2",
    label: "core coil",
    kind: "passive",
    at: [35.4, 4.4],
    size: [2.5, 2],
    finish: "coated",
    emissivity: 0.9,
    nets: ["VCORE"],
  },
  {
    ref: "D1",
    label: "flyback diode",
    kind: "passive",
    at: [54.6, 18.8],
    size: [2.6, 1.6],
    finish: "moulded",
    emissivity: 0.94,
    nets: ["VSYS"],
  },
  ceramic("C1", [17.6, 12.6], [1.6, 0.8], "V3"),
  ceramic("C2", [17.6, 15.4], [1.6, 0.8], "VCORE"),
  ceramic("C3", [17.6, 18.6], [1.6, 0.8], "VCORE"),
  ceramic("C4", [30.6, 13.2], [1.6, 0.8], "VCORE"),
  ceramic("C5", [30.6, 17], [1.6, 0.8], "V3"),
  ceramic("C6", [40.2, 13.6], [2, 1.25], "VSYS"),
  ceramic("C7", [43.6, 4.6], [2, 1.25], "VSYS"),
  ceramic("C8", [36.2, 9.4], [1.25, 2], "V3"),
  ceramic("C9", [50.4, 27.6], [2, 1.25], "VSYS"),
  ceramic("C10", [9.2, 5], [1.6, 0.8], "VA"),
  resistor("R1", [54.2, 22.8], [1.6, 0.8], ["VSYS", "SENSE"]),
  resistor("R2", [54.2, 25.4], [1.6, 0.8], ["SENSE", "GND"]),
  resistor("R3", [9.8, 11.6], [1.6, 0.8], ["VA"]),
  resistor("R4", [14, 8], [0.8, 1.6], ["VA"]),
  resistor("R5", [9.6, 22], [1.6, 0.8], ["V3"]),
];

const BOTTOM: readonly Line[] = [
  chip("U7", "valve driver", [14.6, 25], [5, 4], ["VSYS"]),
  chip("U8", "charger", [45, 18], [4, 4], ["VIN", "VSYS"]),
  chip("U9", "clock", [28.6, 8.4], [3, 3], ["V3"]),
  ceramic("C11", [45, 22.6], [2, 1.25], "VSYS"),
  ceramic("C12", [40, 17.4], [1.25, 2], "VIN"),
  ceramic("C13", [14.8, 29], [2, 1.25], "VSYS"),
  resistor("R6", [20.4, 24.6], [0.8, 1.6], ["VSYS", "GND"]),
  {
    ref: "J3",
    label: "battery connector",
    kind: "connector",
    at: [29.4, 29.6],
    size: [6.4, 4],
    finish: "moulded",
    emissivity: 0.94,
    nets: ["VBAT", "GND"],
  },
];

/** A corner is cut away where the probe's cable leaves. */
const OUTLINE: readonly Point[] = [
  [0, 0],
  [58, 0],
  [58, 34],
  [6, 34],
  [6, 27],
  [0, 27],
];

/** The board of the invented instrument. */
export function sampleBoard(): TrueBoard {
  const parts = [...TOP.map((line) => asPart(line, "top")), ...BOTTOM.map((line) => asPart(line, "bottom"))];
  return {
    name: "Wrenbeck T4 soil-moisture meter, main board (invented)",
    thicknessMm: 0.8,
    outline: OUTLINE,
    parts,
    unnamed: PADS.map((at, i) => asPart(pad(i, at), "top")),
  };
}

/** Test points that the map leaves out. */
const PADS: readonly (readonly [number, number])[] = [
  [5, 4],
  [14, 21.6],
  [18.4, 30.6],
  [31, 22],
  [33.2, 12.6],
  [46.8, 17.4],
  [55.4, 30.6],
  [28, 3.6],
];

function pad(index: number, at: readonly [number, number]): Line {
  return {
    ref: `TP${index + 1}`,
    label: "test point",
    kind: "other",
    at,
    size: [1, 1],
    finish: "bare-metal",
    emissivity: 0.4,
    nets: [],
  };
}

function asPart(line: Line, side: "top" | "bottom"): Part {
  const area = line.size[0] * line.size[1];
  const center: Point = [line.at[0], line.at[1]];
  return {
    ref: line.ref,
    label: line.label,
    side,
    kind: line.kind,
    centerMm: center,
    sizeMm: line.size,
    angleDeg: 0,
    polygon: turnedRectangle(center, line.size[0], line.size[1], 0),
    finish: line.finish,
    emissivity: line.emissivity,
    finishDeclared: true,
    nets: line.nets,
    normallyWarm: line.warm === true,
    bodyKPerW: 30 * area ** -0.4,
    bodyTimeS: 0.5 * Math.sqrt(1 + area / 10),
    dieOffset: [0, 0],
  };
}
