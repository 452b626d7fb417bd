// Kernels that sort and divide numbers of single precision, against the language's own.
import { expect, it } from "vitest";
import { SORT_TALLY_BYTES, sharedKernels } from "../../../src/numeric/kernels.js";
import { makeRandom } from "../../simulate/random.js";

it("numbers of both signs come in the order of the language's own sort, −0 before 0", () => {
  const random = makeRandom("sort numbers");
  const values = Float32Array.from({ length: 4001 }, () => 10 ** random.uniform(-20, 20) * random.normal());
  values.set([0, -0, 0, -0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 1e-45, -1e-45], 100);
  const kernels = sharedKernels()!;
  const [at, other] = [kernels.put(values), kernels.take(values.byteLength)];
  kernels.run.sortNumbers(at, values.length, other, kernels.take(SORT_TALLY_BYTES));
  const expected = values.slice().sort();
  const bits = (list: Float32Array): Uint32Array => new Uint32Array(list.slice().buffer);
  expect(bits(kernels.floats(at, values.length))).toEqual(bits(expected));
});

it("a picture divided by a number is divided in double precision and rounded once", () => {
  const random = makeRandom("divide");
  const values = Float32Array.from({ length: 1001 }, () => random.normal());
  const kernels = sharedKernels()!;
  const at = kernels.put(values);
  kernels.run.divide(at, values.length, 0.9137, at);
  const found = kernels.floats(at, values.length).slice();
  expect(found).toEqual(values.map((value) => value / 0.9137));
});
