// mutation: in place of vitest: what a file of tests registers → a list of tests that can be run again and again.
import {
  ASYMMETRIC_MATCHERS_OBJECT,
  chai,
  customMatchers,
  GLOBAL_EXPECT,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
  setState,
} from "@vitest/expect";

/** All tests in the order in which they were registered. @type {{id: string, name: string, run: () =>
 *  Promise<void>}[]} */
export const tests = [];

// As vitest puts its own `expect` together.
chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);
export const expect = (value, message) => chai.expect(value, message);
Object.assign(expect, chai.expect, globalThis[ASYMMETRIC_MATCHERS_OBJECT]);
Object.defineProperty(globalThis, GLOBAL_EXPECT, { value: expect, writable: true, configurable: true });
setState({ assertionCalls: 0, isExpectingAssertions: false, isExpectingAssertionsError: null }, expect);
expect.extend(expect, customMatchers);

/** A group within which tests are registered; the first is the file. */
let group = newGroup("", null);

function newGroup(name, outer) {
  return { name, outer, beforeAll: [], beforeEach: [], afterEach: [], ready: null };
}

/** Begin another file. */
export function beginFile(name) {
  group = newGroup(name, null);
}

export const beforeAll = (work) => void group.beforeAll.push(work);
export const beforeEach = (work) => void group.beforeEach.push(work);
export const afterEach = (work) => void group.afterEach.push(work);
/** What is set up once is used by every run; the process ends with it. */
export const afterAll = () => {};

function describeGroup(name, body) {
  const outer = group;
  group = newGroup(`${outer.name} > ${name}`, outer);
  body();
  group = outer;
}

function register(name, body) {
  const own = group;
  const full = `${own.name} > ${name}`;
  tests.push({ id: `${tests.length} ${full}`, name: full, run: () => runIn(own, body) });
}

async function runIn(own, body) {
  const groups = [];
  for (let one = own; one !== null; one = one.outer) groups.unshift(one);
  for (const one of groups) {
    one.ready ??= (async () => {
      for (const work of one.beforeAll) await work();
    })();
    await one.ready;
  }
  for (const one of groups) for (const work of one.beforeEach) await work();
  try {
    await body();
  } finally {
    for (const one of groups.reverse()) for (const work of one.afterEach) await work();
  }
}

function withVariants(one) {
  const each = (rows) => (name, body) => {
    for (const [i, row] of rows.entries())
      one(`${name} #${i}`, () => (Array.isArray(row) ? body(...row) : body(row)));
  };
  const skipIf = (condition) => (condition ? () => {} : one);
  return Object.assign(one, { each, skipIf });
}

export const describe = withVariants(describeGroup);
export const it = withVariants(register);
export const test = it;
