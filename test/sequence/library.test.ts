import { describe, expect, test } from "vitest";
import { libraryFiles } from "../../server/library-files";
import { sequenceOf } from "../../server/sequence";
import { analyze, findingsOf, library, sequence } from "./helper";

const files = ["thread", "joint", "wrench", "procedure", "order"].map(
  (name) => `library:/${name}.trammel`,
);

describe("the library's files on the order of work", () => {
  test("both sides of every order are kinds of work a step can have", () => {
    const { kinds, orders } = library().vocabulary;
    const work = kinds.get("step")?.fields.get("work")?.type;
    const choices = work?.form === "choice" ? work.choices : [];
    expect(orders.length).toBeGreaterThan(40);
    for (const { title, node } of orders) {
      for (const side of [node.before, node.after]) {
        const word = side.type === "path" ? side.names.map(({ text }) => text).join(".") : "";
        expect(choices, `${title}: ${word}`).toContain(word);
      }
    }
  });
});

describe("examples in the library's files", () => {
  const own = files.map((uri) => uri.replace("library:/", ""));
  const examples = libraryFiles()
    .filter(({ path }) => own.includes(path))
    .flatMap(({ path, text }) =>
      [...text.matchAll(/^# Example: (.*)\n((?:# {3}.*\n?)+)/gm)].map(
        ([, title = "", lines = ""]) => ({
          title: `${path}: ${title}`,
          text: lines.replaceAll(/^# {3}/gm, ""),
        }),
      ),
    );

  test("there are some", () => expect(examples.length).toBe(5));

  test.each(examples)("$title", ({ text }) => {
    const analysis = analyze(text);
    expect(
      analysis.findings.filter(({ severity }) => severity !== "note").map(({ message }) => message),
    ).toEqual([]);
    for (const { value } of analysis.asked) expect(value.si, value.path).toBeDefined();
    expect(sequenceOf(analysis).findings.map(({ message }) => message)).toEqual([]);
  });
});

const chapters = ["measure", "cut", "weld", "carrier", "brakes", "bleed", "driveline", "road"];
const uses = chapters.map((name) => `use "library:chapters/${name}.trammel"\n`).join("");

describe("the library's chapters", () => {
  const job = `procedure job { chapters: [measuring, cutting, welding, gearing_up, braking, bleeding, driveline, proving] }\n`;

  test("one after the other they break no rule and lack nothing", () => {
    const { findings, steps } = sequence(uses + job);
    expect(findings.map(({ message }) => message)).toEqual([]);
    expect(steps.filter(({ state }) => state === "ready").map(({ path }) => path)).toEqual([
      "measuring.support",
    ]);
  });

  test("each of them can be taken in alone", () => {
    for (const name of chapters) {
      const procedure =
        /^procedure (\w+)/m.exec(libraryText(`chapters/${name}.trammel`))?.[1] ?? "";
      const text = `use "library:chapters/${name}.trammel"\nprocedure job { chapters: ${procedure} }`;
      const { findings } = sequence(text);
      expect(
        findings.filter(({ severity }) => severity === "error"),
        name,
      ).toEqual([]);
    }
  });

  // Chapters by the form of the axle: what holds the shafts in, and how the carrier goes in.
  test.each([
    ["integral.trammel", "gearing_up, covering", "gearing_up.shafts", "covering.cover"],
    ["c-clip.trammel", "gearing_up, clipping, covering", "clipping.clips", "covering.cover"],
    ["full-floating.trammel", "gearing_up, floating", "floating.hubs", "floating.shafts"],
  ])("%s: steps follow from the form and break no rule", (file, middle, first, then) => {
    const text = `${uses}use "library:chapters/${file}"
procedure job { chapters: [measuring, cutting, welding, ${middle}, braking, bleeding, driveline, proving] }`;
    const { findings, steps } = sequence(text);
    expect(findings.map(({ message }) => message)).toEqual([]);
    const live = steps.map(({ path }) => path);
    expect(live.indexOf(then)).toBeGreaterThan(live.indexOf(first));
    expect(live.indexOf(first)).toBeGreaterThan(0);
  });

  test("a cover before the clips, a pinion angle without a carrier, a weld without a disconnected battery", () => {
    const wrong = findingsOf(
      `${uses}use "library:chapters/c-clip.trammel"
procedure job { chapters: [welding, gearing_up, covering, clipping] }`,
    ).join("\n");
    expect(wrong).toContain("`covering.cover` is planned before `clipping.clips`");
    const bare = findingsOf(
      "procedure job { step angle { work: set_pinion_angle }  step perches { work: weld_perches  after: angle } }",
    ).join("\n");
    expect(bare).toContain("carrier in the housing before the pinion angle");
    expect(bare).toContain("disconnect before the perches are welded");
  });

  test("a build writes into them by path", () => {
    const { steps } = sequence(
      `${uses}${job}cutting.saw.hands: 3\ncutting.saw.needs: ["band saw"]`,
    );
    const saw = steps.find(({ path }) => path === "cutting.saw");
    expect([saw?.hands, saw?.needs]).toEqual([3, ["band saw"]]);
  });

  test("in the wrong order they are objected to where the build names them", () => {
    const wrong = `procedure job { chapters: [gearing_up, welding] }`;
    const found = findingsOf(uses + wrong).filter((each) => each.includes("order/broken"));
    expect(found.length).toBeGreaterThan(0);
    for (const each of found) expect(each).toMatch(/^9: /);
    expect(found.join("\n")).toContain(
      "`gearing_up.carrier_in` is planned before `welding.weld_ends`",
    );
  });
});

function libraryText(path: string): string {
  return libraryFiles().find((file) => file.path === path)?.text ?? "";
}
