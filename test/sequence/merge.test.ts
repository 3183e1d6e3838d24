/**
 * Two people write on the same day, and git puts their entries together.
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { findingsOf, sequence } from "./helper";

const plan = `procedure job {
  step clean {}
  step shim { after: clean }
  step torque { after: shim }
}
`;
const first = `record "a" 2026-03-01 by "A" { job.clean.done: yes }\n`;
const one = `record "b" 2026-03-02 by "B" { job.shim.done: yes }\n`;
const other = `record "c" 2026-03-02 by "C" { job.torque.done: yes }\n`;

/** Work in a repository of its own, gone afterwards. */
function inRepository<T>(
  work: (git: (...words: string[]) => void, path: (name: string) => string) => T,
): T {
  const folder = mkdtempSync(join(tmpdir(), "trammel-merge-"));
  const git = (...words: string[]): void => {
    const who = [
      "-c",
      "user.name=Bench",
      "-c",
      "user.email=bench@shop.example",
      "-c",
      "commit.gpgsign=false",
    ];
    execFileSync("git", [...who, "-C", folder, ...words], { stdio: "ignore" });
  };
  try {
    git("init", "--initial-branch=main");
    return work(git, (name) => join(folder, name));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Both write on from one state of the folder, each on a branch of their own; then git merges. */
function merged(
  before: Readonly<Record<string, string>>,
  one: Readonly<Record<string, string>>,
  other: Readonly<Record<string, string>>,
): Record<string, string> {
  return inRepository((git, path) => {
    const commit = (files: Readonly<Record<string, string>>): void => {
      for (const [name, text] of Object.entries(files)) writeFileSync(path(name), text);
      git("add", ".");
      git("commit", "-m", "work");
    };
    commit(before);
    git("checkout", "-b", "other");
    commit(other);
    git("checkout", "main");
    commit(one);
    // A conflict makes git fail, and with it the test.
    git("merge", "--no-edit", "other");
    const names = Object.keys({ ...before, ...one, ...other });
    return Object.fromEntries(names.map((name) => [name, readFileSync(path(name), "utf8")]));
  });
}

function allDone(log: string): void {
  expect(findingsOf(plan + log)).toEqual([]);
  expect(sequence(plan + log).steps.map(({ state }) => state)).toEqual([
    "done",
    "done",
    "done",
    "done",
  ]);
}

describe("entries of two people merge without a conflict", () => {
  test("where each of them keeps a log of their own", () => {
    const block = (text: string): string =>
      `${text.trim().replace("{ ", "{\n  ").replace(" }", "\n}")}\n`;
    const logs = merged(
      { "log-b.trammel": block(first), "log-c.trammel": "# C\n" },
      { "log-b.trammel": block(first) + block(one) },
      { "log-c.trammel": `# C\n${block(other)}` },
    );
    const texts = [logs["log-b.trammel"] ?? "", logs["log-c.trammel"] ?? ""];
    // Whichever file is taken in first: days tell the order.
    allDone(texts.join(""));
    allDone([...texts].reverse().join(""));
  });

  test("where both write at the end of one log, an entry to a line, and git keeps both sides' lines", () => {
    const logs = merged(
      { ".gitattributes": "log.trammel merge=union\n", "log.trammel": first },
      { "log.trammel": first + one },
      { "log.trammel": first + other },
    );
    expect(logs["log.trammel"]).toBe(first + one + other);
    allDone(logs["log.trammel"] ?? "");
    allDone(first + other + one);
  });
});
