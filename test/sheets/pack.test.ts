/** What stands on which sheet. */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import { packOf, sheetsHtml, sheetsMarkdown } from "../../server/sheets";
import { analysisOf, builds } from "../pictures/builds";
import { sampleAnalysis } from "../pictures/samples";

const options = { file: "build.trammel", date: "2026-11-27", paper: "letter" } as const;

describe("the van's sheets", () => {
  const analysis = sampleAnalysis("samples/harbor-van/work.trammel");
  const pack = packOf(analysis, options);
  const sheetOf = (id: string) => pack.sheets.find((each) => each.id === id)!;

  test("come in the order a vehicle comes to the stations", () => {
    expect(pack.sheets.map(({ id }) => id)).toEqual([
      "measure",
      "saw",
      "weld",
      "shafts",
      "brakes",
      "torque",
      "driveline",
      "road",
      "templates",
      "hand-over",
    ]);
  });

  test("have templates at full size that the page holds", () => {
    const { drawings } = sheetOf("templates");
    expect(drawings.length).toBeGreaterThan(3);
    for (const { scale, width, height } of drawings) {
      expect(scale.text).toBe("1:1");
      expect(Math.min(width, height)).toBeLessThanOrEqual(186);
      expect(Math.max(width, height)).toBeLessThanOrEqual(220);
    }
  });

  test("hold every step once", () => {
    const steps = sequenceOf(analysis).steps.filter(({ holdsSteps }) => !holdsSteps);
    const numbers = pack.sheets.flatMap((sheet) => sheet.steps.map(({ number }) => number));
    expect([...numbers].sort((a, b) => a - b)).toEqual(steps.map((_, index) => index + 1));
  });

  test("say a caution once a sheet and a finding once in all", () => {
    for (const { cautions } of pack.sheets) expect(new Set(cautions).size).toBe(cautions.length);
    const told = pack.sheets.flatMap(({ findings }) => findings).length;
    const there = analysis.findings.filter(({ code }) => code !== "missing/value").length;
    expect(told).toBe(there);
  });

  test("give the saw what the tape reads", () => {
    const rows = sheetOf("saw").figures.flatMap((group) => group.rows);
    for (const side of ["left", "right"]) {
      const value = analysis.valueAt(`rear.${side}.tape_reading`)!;
      const row = rows.find(({ path }) => path === value.path);
      expect(row?.figure).toBe(analysis.write(value));
    }
    expect(sheetOf("saw").drawings.map(({ title }) => title)).toEqual(["Rear axle: saw marks"]);
  });

  test("have a card for every joint, with its passes", () => {
    const cards = sheetOf("torque").joints;
    expect(cards.map(({ path }) => path)).toEqual(
      sequenceOf(analysis).joints.map(({ path }) => path),
    );
    for (const { passes, drawing } of cards) {
      expect(passes.length).toBeGreaterThan(0);
      expect(drawing).toBeDefined();
    }
  });

  test("end with what was assumed, what to order and who signs", () => {
    const { closing } = sheetOf("hand-over");
    expect(closing?.assumptions.length).toBeGreaterThan(3);
    const shaft = closing?.order.find(({ title }) => title === "Left shaft");
    expect(shaft?.size).toContain(analysis.write(analysis.valueAt("left_shaft.length")!));
    expect(closing?.order.some(({ title }) => /wrench|Rail/.test(title))).toBe(false);
    expect(sheetsHtml(pack)).toContain("screening figures");
  });

  test("are the same facts in Markdown", () => {
    const text = sheetsMarkdown(pack);
    for (const { title } of pack.sheets) expect(text).toContain(`## ${title}`);
    expect(text.match(/^- \[[x ]\] /gm)?.length).toBe(
      pack.sheets.flatMap(({ steps }) => steps).length,
    );
  });
});

test("a tube is ordered for an end that has none, or whose tube is too short, and for no other", () => {
  const tubesOf = (text: string) => {
    const { closing } = packOf(analysisOf(text), options).sheets.find(
      ({ id }) => id === "hand-over",
    )!;
    return (closing?.order ?? []).filter(({ title }) => title.startsWith("axle tube"));
  };
  const cut = builds.ordinary ?? "";
  expect(tubesOf(cut)).toEqual([]);
  const bare = analysisOf(cut.replaceAll(/tube_end: \S+ in/g, ""));
  const [left, right] = tubesOf(cut.replaceAll(/tube_end: \S+ in/g, ""));
  for (const [line, side] of [
    [left, "left"],
    [right, "right"],
  ] as const) {
    const length = bare.valueAt(`rear.${side}.tube_left`)!;
    expect(line?.size).toBe(
      `3 1/8 in x 0.25 in, ${bare.write(length)} from the center section to the saw line`,
    );
  }
  expect(tubesOf(cut.replace("tube_end: 29 in", "tube_end: 20 in"))).toHaveLength(1);
});

describe("what others wrote", () => {
  const hostile = `</title><script>alert(1)</script><img src=x onerror=alert(2)> [x](https://x.test) | a`;
  const text = (builds.ordinary ?? "").replace('"Rear axle"', JSON.stringify(hostile));
  const pack = packOf(analysisOf(`vehicle v ${JSON.stringify(hostile)} { rear: rear }\n${text}`), {
    ...options,
    file: `<b>${hostile}`,
    revision: "\u202e<i>",
  });

  test("is letters on the page: one file, nothing run, nothing loaded", () => {
    const html = sheetsHtml(pack);
    expect(html).not.toMatch(/<(script|img|link|iframe|object|embed|a|base|form)\b/i);
    const tags = html.replaceAll(/"[^"]*"/g, '""');
    expect(tags).not.toMatch(/<[^>]*\s(src|href|on\w+)=/i);
    expect(html).not.toMatch(/url\(|@import/);
    expect(html).toContain("default-src &#39;none&#39;");
    expect(html).not.toContain("\u202e");
  });

  test("is neither a link nor a picture nor a cell in Markdown", () => {
    const markdown = sheetsMarkdown(pack);
    expect(markdown).not.toMatch(/(?<!\\)<script/);
    expect(markdown).not.toMatch(/[^\\]\[x\]\(/);
  });
});

test("a full pack is put together and written in under 300 ms", () => {
  const analysis = sampleAnalysis("samples/harbor-van/work.trammel");
  sheetsHtml(packOf(analysis, options));
  const times = Array.from({ length: 5 }, () => {
    const begin = process.cpuUsage();
    sheetsHtml(packOf(analysis, options));
    const { user, system } = process.cpuUsage(begin);
    return (user + system) / 1000;
  }).sort((a, b) => a - b);
  expect(times[2]).toBeLessThan(300);
});
