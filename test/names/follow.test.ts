/** A name means the same to whoever asks: the engine that solves it and the editor that shows it. */
import { describe, expect, test } from "vitest";
import type { Path } from "../../grammar/syntax";
import type { Analysis } from "../../server/analysis/analysis";
import { definition } from "../../server/features/definition";
import { follow, holderAt, holderOf, namesAt, pathOf, textsOf } from "../../server/features/holder";
import { isRefusal, renameAt } from "../../server/features/rename";
import { namesOf } from "../../server/features/spot";
import { firstStep, type NameWorld, stepInside } from "../../server/names/follow";
import { cursor } from "../features/world";
import { sampleAnalysis } from "../pictures/samples";

/** Kinds of boxes in boxes, and nothing of the project: `lid` and `base` are alike. */
interface Box {
  readonly fields: readonly string[];
  readonly inner: Readonly<Record<string, Box>>;
  around?: Box;
}

function box(fields: readonly string[], inner: Record<string, Box> = {}): Box {
  const made: Box = { fields, inner };
  for (const each of Object.values(inner)) each.around = made;
  return made;
}

const boxes: NameWorld<Box, string, Readonly<Record<string, Box>>> = {
  ownerOf: ({ around }) => around,
  fieldOf: ({ fields }, name) => fields.find((field) => field === name),
  childOf: ({ inner }, name) => inner[name],
  twinsOf: ({ fields }) => fields.filter((field) => field === "lid" || field === "base"),
  inFile: (names, name) => {
    const holder = names[name];
    return holder && { is: "thing", holder };
  },
};

describe("the rule", () => {
  const drawer = box(["width", "lid", "base"]);
  const chest = box(["width", "depth"], { drawer });
  const file = { chest, width: box([]), depth: box([]), shelf: box([]) };
  const first = (name: string) => firstStep(boxes, drawer, file, name);

  test("own names come before those of what it is part of, these before the file's", () => {
    expect(first("width")).toEqual({ is: "field", holder: drawer, field: "width" });
    expect(first("depth")).toEqual({ is: "field", holder: chest, field: "depth" });
    expect(first("shelf")).toEqual({ is: "thing", holder: file.shelf });
    expect(first("nothing")).toBeUndefined();
  });

  test("`owner` is what it is part of, unless a field is called so", () => {
    expect(first("owner")).toEqual({ is: "thing", holder: chest });
    const odd = box(["owner"]);
    box([], { odd });
    expect(firstStep(boxes, odd, file, "owner")).toEqual({
      is: "field",
      holder: odd,
      field: "owner",
    });
    expect(firstStep(boxes, chest, file, "owner")).toBeUndefined();
  });

  test("`both` are two fields alike, and nothing where there is no such pair", () => {
    expect(first("both")).toEqual({ is: "both", holder: drawer, twins: ["lid", "base"] });
    expect(stepInside(boxes, chest, "both")).toBeUndefined();
  });

  test("behind a dot only what is inside answers", () => {
    expect(stepInside(boxes, chest, "drawer")).toEqual({ is: "thing", holder: drawer });
    expect(stepInside(boxes, drawer, "depth")).toBeUndefined();
    expect(stepInside(boxes, drawer, "owner")).toBeUndefined();
  });
});

/** Where the engine follows a path from the same place, as the path of what it reaches. */
function engine(analysis: Analysis, uri: string, from: Parameters<Follower>[0], path: Path) {
  const target = analysis.binder.resolve(from, uri, path.names);
  if (target.is === "thing") return target.thing.path;
  if (target.is !== "field") return undefined;
  const { thing, field, part } = target;
  return `${thing.path}.${field.name}${part === undefined ? "" : `.${part.name}`}`;
}

type Follower = Analysis["binder"]["resolve"];

test.each([
  "samples/harbor-van/running-gear.trammel",
  "samples/harbor-van/work.trammel",
  "samples/alder-truck/running-gear.trammel",
])("every name of %s leads where the engine follows it", (file) => {
  const analysis = sampleAnalysis(file);
  let compared = 0;
  for (const [uri, { library, source }] of analysis.files) {
    if (library) continue;
    const names = namesAt(analysis, uri);
    for (const item of source.items) {
      for (const { name, nodes } of namesOf(item.node)) {
        const path = nodes.at(-2);
        if (path?.type !== "path" || path.names.at(-1) !== name) continue;
        const holder = holderAt(names, nodes.slice(0, -1));
        if (holder !== undefined && holder.thing === undefined) continue;
        const target = follow(names, holder, textsOf(path));
        const reached = engine(analysis, uri, holder?.thing, path);
        if (target === undefined || reached === undefined) continue;
        compared++;
        const inside = holderOf(target)?.thing?.path;
        expect(inside ?? pathOf(target), textsOf(path).join(".")).toBe(reached);
      }
    }
  }
  expect(compared).toBeGreaterThan(50);
});

test("`owner` is looked at and gone to like any other name, and stays what it is called", () => {
  const text = (place: string) => `kind slot { depth: length "how deep"  half: length "its half"
  relation "halves": half = ${place} }
kind rail { depth: length "how deep"  near: part slot "the near end" }
rail side { depth: 2 in }
`;
  const of = cursor(text("owner.dep$0th / 2").replace("kind slot {", "kind slot of rail {"));
  expect(definition(of.analysis, of.uri, of.offset)).toHaveLength(1);
  expect(of.analysis.valueAt("side.near.half")?.si).toBeCloseTo(0.0254, 9);
  const named = cursor(`axle rear { left { check "room": own$0er.left.inner_gap >= 1 in } }`);
  const refusal = renameAt(named.analysis, named.uri, named.offset);
  expect(isRefusal(refusal)).toBe(true);
});
