// import: – → body sizes of packages by name, each with the published standard it comes from.
// All values are from memory of the standards named, in which sizes are nominal or the middle of a range; they are held
// against a second list in tests/reference. x and y are the body's extents at the zero rotation of IEC 61188-7: chips
// lie along x, packages with two rows of leads have them left and right, so that their body is long along y.

/** The body of a package at no rotation, mm, and where the size is published. */
export interface BodySize {
  readonly xMm: number;
  readonly yMm: number;
  readonly source: string;
}

const MEMORY = "from memory";
const CHIP = `IEC 60115-8 and EIA chip sizes, ${MEMORY}`;

type Row = readonly [names: readonly string[], xMm: number, yMm: number];

function rows(source: string, list: readonly Row[]): [string, BodySize][] {
  return list.flatMap(([names, xMm, yMm]) =>
    names.map((name): [string, BodySize] => [name, Object.freeze({ xMm, yMm, source })]),
  );
}

/** Chips by their imperial code (hundredths of an inch), with the metric code (tenths of a millimetre) of each. */
export const CHIP_SIZES: readonly (readonly [imperial: string, metric: string, size: BodySize])[] =
  Object.freeze(
    (
      [
        ["008004", "0201", 0.25, 0.125],
        ["01005", "0402", 0.4, 0.2],
        ["0201", "0603", 0.6, 0.3],
        ["0402", "1005", 1.0, 0.5],
        ["0603", "1608", 1.6, 0.8],
        ["0805", "2012", 2.0, 1.25],
        ["1008", "2520", 2.5, 2.0],
        ["1206", "3216", 3.2, 1.6],
        ["1210", "3225", 3.2, 2.5],
        ["1806", "4516", 4.5, 1.6],
        ["1808", "4520", 4.5, 2.0],
        ["1812", "4532", 4.5, 3.2],
        ["2010", "5025", 5.0, 2.5],
        ["2220", "5750", 5.7, 5.0],
        ["2512", "6332", 6.3, 3.2],
        // The other metric code of the same chip.
        ["6432", "6432", 6.4, 3.2],
        // Wide terminals: the first extent is the shorter one.
        ["0306", "0816", 0.8, 1.6],
        ["0508", "1220", 1.25, 2.0],
        ["0612", "1632", 1.6, 3.2],
      ] as const
    ).map(
      ([imperial, metric, xMm, yMm]) =>
        [imperial, metric, Object.freeze({ xMm, yMm, source: CHIP })] as const,
    ),
  );

/** Packages by the name they are called by, in capitals without blanks and signs. */
export const PACKAGE_SIZES: ReadonlyMap<string, BodySize> = new Map([
  ...rows(`EIA-535BAAC, moulded tantalum cases, ${MEMORY}`, [
    [["CASEA", "TANTA", "EIA321618"], 3.2, 1.6],
    [["CASEB", "TANTB", "EIA352821", "3528"], 3.5, 2.8],
    [["CASEC", "TANTC", "EIA603228", "6032"], 6.0, 3.2],
    [["CASED", "TANTD", "EIA734331", "CASEE", "TANTE", "EIA734343", "7343"], 7.3, 4.3],
  ]),
  ...rows(`JEDEC DO-214 (AC, AA, AB), ${MEMORY}`, [
    [["SMA", "DO214AC"], 4.3, 2.6],
    [["SMB", "DO214AA"], 4.3, 3.6],
    [["SMC", "DO214AB"], 6.9, 5.9],
  ]),
  ...rows(`JEDEC DO-213 and IEC 60115-8, cylinders, ${MEMORY}`, [
    [["MINIMELF", "SOD80", "SOD80C", "DO213AA", "LL34", "0204MELF"], 3.5, 1.5],
    [["MELF", "DO213AB", "LL41", "0207MELF"], 5.0, 2.5],
    [["MICROMELF", "0102MELF"], 2.2, 1.1],
  ]),
  ...rows(`IEC 60191-2 outlines of small diodes, ${MEMORY}`, [
    [["SOD123"], 2.7, 1.6],
    [["SOD323", "SC76"], 1.7, 1.25],
    [["SOD523", "SC79"], 1.2, 0.8],
    [["SOD923"], 0.8, 0.6],
  ]),
  ...rows(`JEDEC TO-236 (AB), ${MEMORY}`, [[["SOT23", "SOT233", "TO236", "TO236AB", "SOT233L"], 1.3, 2.9]]),
  ...rows(`JEDEC TO-253, ${MEMORY}`, [[["SOT143", "TO253"], 1.3, 2.9]]),
  ...rows(`JEDEC MO-178, ${MEMORY}`, [[["SOT235", "SOT236", "SOT238", "SOT25", "SOT26"], 1.6, 2.9]]),
  ...rows(`JEDEC MO-193, ${MEMORY}`, [[["TSOT23", "TSOT235", "TSOT236", "TSOT25", "TSOT26"], 1.6, 2.9]]),
  ...rows(`JEITA SC-74, SC-59, ${MEMORY}`, [[["SC74", "SC74A", "SC59", "SOT457", "SOT346"], 1.5, 2.9]]),
  ...rows(`JEDEC MO-203 and JEITA SC-70, SC-88, ${MEMORY}`, [
    [["SOT323", "SOT353", "SOT363", "SC70", "SC703", "SC705", "SC706", "SC88", "SC88A", "SC70L"], 1.25, 2.0],
  ]),
  ...rows(`JEITA SC-75, SC-89, IEC 60191-2, ${MEMORY}`, [
    [["SOT523", "SC75", "SC75A", "SOT416"], 0.8, 1.6],
    [["SOT553", "SOT563", "SOT666", "SC89", "SC107"], 1.2, 1.6],
    [["SOT723"], 0.8, 1.2],
  ]),
  ...rows(`JEDEC TO-243 (AA), ${MEMORY}`, [[["SOT89", "SOT893", "TO243", "TO243AA"], 2.5, 4.5]]),
  ...rows(`JEDEC TO-261 (AA), ${MEMORY}`, [[["SOT223", "SOT2233", "SOT2234", "TO261", "TO261AA"], 3.5, 6.5]]),
  ...rows(`JEDEC TO-252 (AA), ${MEMORY}`, [[["DPAK", "TO252", "TO2522", "TO2523", "TO252AA"], 6.1, 6.6]]),
  ...rows(`JEDEC TO-263 (AB), ${MEMORY}`, [[["D2PAK", "TO263", "TO2632", "TO2633", "TO263AB"], 8.7, 10.2]]),
  ...rows(`JEDEC MS-012, ${MEMORY}`, [
    [["SO8", "SOIC8", "SOP8", "SOIC8N"], 3.9, 4.9],
    [["SO14", "SOIC14", "SOIC14N"], 3.9, 8.65],
    [["SO16", "SOIC16", "SOIC16N"], 3.9, 9.9],
  ]),
  ...rows(`JEDEC MS-013, ${MEMORY}`, [
    [["SO16W", "SOIC16W", "SOW16"], 7.5, 10.3],
    [["SO18W", "SOIC18W", "SOIC18", "SO18"], 7.5, 11.55],
    [["SO20W", "SOIC20W", "SOIC20", "SO20"], 7.5, 12.8],
    [["SO24W", "SOIC24W", "SOIC24", "SO24"], 7.5, 15.4],
    [["SO28W", "SOIC28W", "SOIC28", "SO28"], 7.5, 17.9],
  ]),
  ...rows(`JEDEC MO-153, ${MEMORY}`, [
    [["TSSOP8"], 4.4, 3.0],
    [["TSSOP14"], 4.4, 5.0],
    [["TSSOP16"], 4.4, 5.0],
    [["TSSOP20"], 4.4, 6.5],
    [["TSSOP24"], 4.4, 7.8],
    [["TSSOP28"], 4.4, 9.7],
    [["TSSOP48"], 6.1, 12.5],
    [["TSSOP56"], 6.1, 14.0],
  ]),
  ...rows(`JEDEC MO-187, ${MEMORY}`, [[["MSOP8", "MSOP10", "VSSOP10"], 3.0, 3.0]]),
  ...rows(`JEDEC MO-137, ${MEMORY}`, [
    [["QSOP16", "SSOP16QSOP"], 3.9, 4.9],
    [["QSOP20", "QSOP24"], 3.9, 8.65],
  ]),
  ...rows(`JEDEC MO-150, ${MEMORY}`, [
    [["SSOP16"], 5.3, 6.2],
    [["SSOP20"], 5.3, 7.2],
    [["SSOP24"], 5.3, 8.2],
    [["SSOP28"], 5.3, 10.2],
  ]),
  ...rows(`JEDEC MS-026, ${MEMORY}`, [
    [["LQFP32", "TQFP32", "LQFP48", "TQFP48"], 7, 7],
    [["LQFP44", "TQFP44", "LQFP64", "TQFP64"], 10, 10],
    [["LQFP80", "TQFP80"], 12, 12],
    [["LQFP100", "TQFP100"], 14, 14],
    [["LQFP144", "TQFP144"], 20, 20],
    [["LQFP176", "TQFP176"], 24, 24],
    [["LQFP208", "TQFP208"], 28, 28],
  ]),
]);
