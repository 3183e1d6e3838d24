import fc from "fast-check";
import { expect, test } from "vitest";
import { aligned } from "../../server/keep/aligned";

test("what stands in a row is found in another one wherever it stands there", () => {
  const row = fc.uniqueArray(fc.integer({ min: 0, max: 12 }), { maxLength: 10 });
  fc.assert(
    fc.property(row, row, (one, other) => {
      const placeIn = aligned(one, other);
      for (const [place, each] of one.entries()) {
        const at = other.indexOf(each);
        expect(placeIn(place)).toBe(at < 0 ? undefined : at);
      }
    }),
    {
      examples: [
        [
          [1, 2, 3],
          [1, 9, 2, 3],
        ],
        [
          [1, 2, 3],
          [1, 3],
        ],
        [[], [1]],
        [
          [1, 2],
          [2, 1],
        ],
      ],
    },
  );
});
