/** What a build takes in of a shop's other file: all that hangs together with what it names, by any chain. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { memoryHost } from "../../server/analysis/host";
import { analyzerFor } from "../../server/trade";
import { folder, library } from "../model/build";

const kind = `kind link {
  next: link optional
  size: length
}
`;

/** The things of `parts.trammel` that a build which names some of them has. */
function had(next: readonly (number | undefined)[], named: readonly number[]): string[] {
  const things = next.map(
    (to, at) => `link t${at} { ${to === undefined ? "" : `next: t${to}  `}size: ${at + 1} mm }`,
  );
  const own = named.map((at) => `link own${at} { next: parts.t${at}  size: 1 mm }`);
  const host = memoryHost(
    new Map([
      [`${folder}parts.trammel`, `${kind}${things.join("\n")}\n`],
      [`${folder}build.trammel`, `use "parts.trammel" as parts\n${own.join("\n")}\n`],
    ]),
    [folder],
  );
  const analysis = analyzerFor(host, library()).analyze(`${folder}build.trammel`);
  const paths = analysis?.things.map(({ path }) => path) ?? [];
  return paths.filter((path) => path.startsWith("parts."));
}

test("what something taken in names is taken in, and what names it; nothing else", () => {
  const drawn = fc.integer({ min: 1, max: 9 }).chain((count) =>
    fc.record({
      next: fc.array(fc.option(fc.nat(count - 1), { nil: undefined }), {
        minLength: count,
        maxLength: count,
      }),
      named: fc.uniqueArray(fc.nat(count - 1), { maxLength: 2 }),
    }),
  );
  fc.assert(
    fc.property(drawn, ({ next, named }) => {
      const reached = new Set(named);
      for (let before = -1; before !== reached.size; ) {
        before = reached.size;
        next.forEach((to, at) => {
          if (to === undefined) return;
          if (reached.has(at)) reached.add(to);
          if (reached.has(to)) reached.add(at);
        });
      }
      const expected = [...reached].sort((one, other) => one - other).map((at) => `parts.t${at}`);
      expect(had(next, named).sort()).toEqual(expected.sort());
    }),
    { numRuns: 60, seed: 7 },
  );
});
