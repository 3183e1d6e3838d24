/**
 * What is found about the order of work is found by everyone who reads a build; a fault in what
 * looks further takes nothing with it.
 */
import { expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { sequenceOf } from "../../server/sequence";
import { analyzerFor } from "../../server/trade";
import { library } from "./helper";

const uri = "file:///shop/build.trammel";
const text = `joint nuts "Wheel nuts" {
  thread: 1/2-20
  grade: 8
  count: 5
  torque: 85 lb-ft
}

procedure job "Job" {
  step clean "Clean the faces" {
  }
}

wheel w {
  rim_width: 8 lb
}

option wide "Wide" {
}
`;
const host = memoryHost(new Map([[uri, text]]));

test("a joint that no step tightens is among the findings of the build", () => {
  const analysis = analyzerFor(host, library()).analyze(uri);
  expect(sequenceOf(analysis!).findings.map(({ code }) => code)).toEqual(["joint/never-tightened"]);
  const codes = analysis?.findings.map(({ code }) => code);
  expect(codes?.[0]).toBe("joint/never-tightened");
  expect(codes?.length).toBeGreaterThan(1);
});

test("an analyzer by itself knows nothing of the order of work", () => {
  const codes = new Analyzer(host, library()).analyze(uri)?.findings.map(({ code }) => code);
  expect(codes?.length).toBeGreaterThan(0);
  expect(codes).not.toContain("joint/never-tightened");
});

test("a build is looked through once, when its findings are first read, not its options", () => {
  let looked = 0;
  const analyzer = new Analyzer(host, library(), [
    () => {
      looked++;
      return [];
    },
  ]);
  const analysis = analyzer.analyze(uri)!;
  expect(analysis.values.size).toBeGreaterThan(0);
  expect(looked).toBe(0);
  expect(analysis.findings).toBe(analysis.findings);
  expect(looked).toBe(1);
  expect(analysis.under("wide")?.findings).toBeDefined();
  expect(analysis.asBuilt().findings).toBeDefined();
  expect(analysis.trying("w.rim_width: 8 in").findings).toBeDefined();
  expect(looked).toBe(1);
});

test("a fault in looking further is told and takes no other finding with it", () => {
  const alone = new Analyzer(host, library()).analyze(uri)!;
  const analyzer = new Analyzer(host, library(), [
    () => {
      throw new Error("the ladder slipped");
    },
  ]);
  const { findings } = analyzer.analyze(uri)!;
  const others = findings.filter(({ code }) => code !== "build/fault");
  expect(others.map(({ message }) => message)).toEqual(
    alone.findings.map(({ message }) => message),
  );
  expect(findings.find(({ code }) => code === "build/fault")).toMatchObject({
    severity: "warning",
    message: "part of this build was not looked through: the ladder slipped",
  });
});

test("a picture that a record names has to be there", () => {
  const log = `procedure job { step weld {} }
record 2026-03-01 { job.weld { done: yes  photos: ["a.jpg", "b.jpg", "../c.jpg"] } }`;
  const texts = new Map([
    [uri, log],
    ["file:///shop/a.jpg", ""],
    ["file:///c.jpg", ""],
  ]);
  const found = analyzerFor(memoryHost(texts), library()).analyze(uri)?.findings ?? [];
  expect(found.map(({ code, message }) => `${code}: ${message}`)).toEqual([
    'record/no-photo: there is no picture "b.jpg" beside this log',
    'record/no-photo: there is no picture "../c.jpg" beside this log',
  ]);
});
