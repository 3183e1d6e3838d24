/** Another setting words what was found again; nothing is read, made or judged for it. */
import { expect, test } from "vitest";
import type { AnalysisSettings } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { BuildAnalysis } from "../../server/analysis/build-analysis";
import { memoryHost } from "../../server/analysis/host";
import { filesOf, folder, library } from "../model/build";

const text = `
axle rear {
  wheel: w
  left { inner_limit: 20 in;   inner_gap: ? }
}
wheel w { size: 17x9;   offset: 18 mm }
check "wide enough": w.size.width >= 10 in
check "well inside": w.offset ± 1 mm <= 18.5 mm
`;

function reader() {
  const analyzer = new Analyzer(memoryHost(filesOf(text), [folder]), library());
  return (settings: AnalysisSettings): BuildAnalysis => {
    const analysis = analyzer.analyze(`${folder}build.trammel`, settings);
    if (!(analysis instanceof BuildAnalysis)) throw new Error("the build was not read");
    return analysis;
  };
}

test("how strict the reader is", () => {
  const read = reader();
  const { counts } = library().workshop;
  const first = read({});
  const severities = first.findings.map(({ code, severity }) => `${code} ${severity}`);
  expect(severities).toContain("check/own error");
  const before = { ...counts };
  const second = read({ levels: { nominal: "note", rss: "off", worst: "off" } });
  expect(second.findings.map(({ code, severity }) => `${code} ${severity}`)).toContain(
    "check/own note",
  );
  expect(counts).toEqual(before);
  expect(second.results).toHaveLength(first.results.length);
  expect(second.results.every((result, index) => result === first.results[index])).toBe(true);
  const third = read({ levels: { nominal: "off" } });
  expect(third.findings.filter(({ code }) => code === "check/own")).toEqual([]);
});

test("in which units", () => {
  const read = reader();
  const { counts } = library().workshop;
  const inches = read({ system: "inch" });
  const messages = inches.findings.map(({ message }) => message);
  const before = { ...counts };
  const metric = read({ system: "metric" });
  expect(counts).toEqual(before);
  expect(metric.reading.rows.map(({ row }) => row)).toEqual(
    inches.reading.rows.map(({ row }) => row),
  );
  expect(metric.findings.map(({ code }) => code).sort()).toEqual(
    inches.findings.map(({ code }) => code).sort(),
  );
  expect(metric.findings.map(({ message }) => message)).not.toEqual(messages);
  expect(read({ system: "inch" }).findings.map(({ message }) => message)).toEqual(messages);
});
