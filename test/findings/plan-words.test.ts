/** Golden texts of what is seldom wrong with a plan, from its facts. */
import { expect, test } from "vitest";
import { sentence } from "./sentence";

test("joint/adapter", () => {
  expect(sentence({ is: "joint/adapter", joint: "u_bolts" })).toBe(
    "`u_bolts` is tightened through an adapter, and what to set the wrench to is open",
  );
});

test("joint/columns", () => {
  expect(sentence({ is: "joint/columns", joint: "cover", each: 11, columns: 4 })).toBe(
    "11 fasteners round a rectangle do not make 4 along each long side of `cover`",
  );
});

test("joint/places", () => {
  expect(sentence({ is: "joint/places", joint: "cover", count: 10, places: 9 })).toBe(
    "`cover` has 10 fasteners, the places of 9 are written",
  );
});

test("step/no-figure", () => {
  expect(sentence({ is: "step/no-figure", step: "mark_left", path: "rear.lfet.reading" })).toBe(
    "a text of `mark_left` speaks of `rear.lfet.reading`, which is no figure of this build",
  );
});
