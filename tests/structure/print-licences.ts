// npm run licences: the licence of every package in the lock file, those that ship first.
import { lockedPackages } from "./list-packages.js";

const all = lockedPackages();
for (const ships of [true, false]) {
  const some = all.filter((one) => one.ships === ships);
  console.log(
    `${ships ? "Installed with the tool" : "\nFor building and testing it"}: ${some.length} packages\n`,
  );
  const groups = new Map<string, typeof some>();
  for (const one of some) {
    const licence = one.licence ?? "in its LICENSE file";
    groups.set(licence, [...(groups.get(licence) ?? []), one]);
  }
  for (const [licence, packages] of [...groups].sort(([, a], [, b]) => b.length - a.length))
    console.log(`${licence}: ${packages.map(({ name, version }) => `${name} ${version}`).join(", ")}\n`);
}
