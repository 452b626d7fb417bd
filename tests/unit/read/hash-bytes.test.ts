import { expect, it } from "vitest";
import { hashBytes } from "../../../src/read/hash-bytes.js";

it("the hash is that of FIPS 180-4, here and aside", async () => {
  const letters = new Uint8Array(1_000_000).fill("a".charCodeAt(0));
  // Of "abc" and of a million times "a": FIPS 180-2, B.1 and B.3. The million is hashed here at first, and aside from
  // the fourth time on.
  for (let k = 0; k < 6; k++) {
    expect(await hashBytes(letters)).toBe("cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
  }
  expect(await hashBytes(new TextEncoder().encode("abc"))).toBe(
    "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
  );
});
