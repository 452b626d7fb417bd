// What the project takes from others: licences, scripts that run at installation, and that what is installed is what
// was meant.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { lockedPackages } from "./list-packages.js";
import { markdownSection, markdownTable, PROJECT, readText } from "./project.js";

const packages = lockedPackages();
const manifest = JSON.parse(readText("package.json")) as Record<string, Record<string, string>>;

/** Licences that ask for no more than their own text (SPDX names). */
const PERMISSIVE = [
  ...["MIT", "ISC", "0BSD", "BSD-2-Clause", "BSD-3-Clause", "Apache-2.0", "BlueOak-1.0.0", "Python-2.0"],
  "MIT OR Apache-2.0",
];
/** Others, each with the packages that have it and why that is fit. */
const OTHERS: readonly { readonly licence: string; readonly names: RegExp; readonly ships: boolean }[] = [
  // Fonts: may be embedded in documents (SIL OFL 1.1, condition 5 does not reach documents).
  { licence: "OFL-1.1", names: /^@fontsource-variable\/noto-sans(?:-sc)?$/, ships: true },
  // libvips: a library of its own that can be exchanged, as the LGPL asks.
  { licence: "LGPL-3.0-or-later", names: /^@img\/sharp-libvips-/, ships: true },
  { licence: "Apache-2.0 AND LGPL-3.0-or-later", names: /^@img\/sharp-win32-/, ships: true },
  { licence: "Apache-2.0 AND LGPL-3.0-or-later AND MIT", names: /^@img\/sharp-wasm32$/, ships: true },
  // For tests alone, as they are: nothing of them is changed or passed on.
  { licence: "MPL-2.0", names: /^(?:axe-core|lightningcss(?:-.+)?)$/, ships: false },
  { licence: "CC-BY-4.0", names: /^caniuse-lite$/, ships: false },
];

describe("licences", () => {
  it("of all packages are permissive, or named here with the reason", () => {
    const wrong = packages.filter(({ name, licence, ships, path }) => {
      if (licence === null) {
        // Its package.json says nothing: then its LICENSE file must be there, and be the MIT licence's text.
        const file = join(PROJECT, path, "LICENSE");
        return (
          !existsSync(file) ||
          !/^(?:The )?MIT License|Permission is hereby granted, free of charge/m.test(
            readText(join(path, "LICENSE")),
          )
        );
      }
      if (PERMISSIVE.includes(licence.replace(/^\((.*)\)$/, "$1"))) return false;
      return !OTHERS.some((one) => one.licence === licence && one.names.test(name) && (one.ships || !ships));
    });
    expect(wrong.map(({ name, licence, ships }) => `${name}: ${licence}${ships ? ", ships" : ""}`)).toEqual(
      [],
    );
  });

  it("of what is used directly stand in DEVELOPERS.md as the packages say them, each with its reason", () => {
    const rows = markdownTable(markdownSection(readText("DEVELOPERS.md"), "## Packages"));
    const listed = new Map(
      rows.map(([name, reason, licence]) => [name!.replaceAll("`", ""), { reason, licence }]),
    );
    const direct = Object.keys({ ...manifest["dependencies"], ...manifest["devDependencies"] });
    expect([...listed.keys()].sort()).toEqual(direct.sort());
    for (const name of direct) {
      const locked = packages.find(({ path }) => path === `node_modules/${name}`)!;
      expect([name, listed.get(name)!.licence]).toEqual([name, locked.licence]);
      expect(listed.get(name)!.reason!.length, name).toBeGreaterThan(15);
    }
  });
});

describe("installation", () => {
  it("runs no script of what ships; of the rest, only of what needs it", () => {
    const scripts = packages.filter(({ hasInstallScript }) => hasInstallScript);
    expect(scripts.filter(({ ships }) => ships)).toEqual([]);
    // esbuild checks that its program runs, and puts it in place of a starter that costs 40 ms a call.
    expect(scripts.map(({ name }) => name)).toEqual(["esbuild"]);
  });

  it("gets the packages that were meant: each has one version and the SHA-512 of its bytes", () => {
    for (const { name, version, integrity } of packages) {
      expect(version, name).toMatch(/^\d+\.\d+\.\d+(?:[-+][\w.-]+)?$/);
      expect(integrity, name).toMatch(/^sha512-[A-Za-z0-9+/]{86}==$/);
    }
  });

  it("brings few packages: what ships is counted here, so that one more is seen", () => {
    const ships = packages.filter(({ ships, name }) => ships && !name.startsWith("@img/"));
    // @img: one ready-made library for each system, of which one or two are installed.
    expect(ships.length).toBeLessThanOrEqual(38);
    expect(Object.keys(manifest["dependencies"]!).length).toBeLessThanOrEqual(15);
  });
});
