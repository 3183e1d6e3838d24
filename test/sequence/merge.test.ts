/**
 * Several people write into the records of one build, and git puts their entries together: histories
 * played with real git, each read afterwards as `check` reads it. Nothing is lost, nothing has to be
 * repaired by hand.
 */
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { type Sequence, sequenceOf } from "../../server/sequence";
import { library } from "./helper";

const names = ["clean", "shim", "torque", "wheels", "drive", "look"];
const plan = `procedure job {
${names.map((name, at) => `  step ${name} { ${at === 0 ? "" : `after: ${names[at - 1]}`} }`).join("\n")}
}
`;
const head = 'use "work.trammel"\n\n';

/** One entry on its line, as `trammel log` writes them. */
function entry(day: number, by: string, step: string): string {
  return `record 2026-03-0${day} by "${by}" { job.${step}.done: yes }\n`;
}

const [clean, shim, torque, wheels, drive, look] = [
  entry(1, "Ana", "clean"),
  entry(2, "Ana", "shim"),
  entry(3, "Ben", "torque"),
  entry(4, "Ana", "wheels"),
  entry(5, "Ben", "drive"),
  entry(6, "Cy", "look"),
];
const all = [clean, shim, torque, wheels, drive, look];

/** A shop's folder under git, gone afterwards. */
class Shop {
  readonly folder = mkdtempSync(join(tmpdir(), "trammel-merge-"));

  constructor(files: Readonly<Record<string, string>>) {
    this.git("init", "--initial-branch=main");
    // The one line a shop writes for logs that several people write into.
    const attributes = { ".gitattributes": "log*.trammel text eol=lf merge=union\n" };
    this.commit({ ...attributes, "work.trammel": plan, ...files });
  }

  /** Fails, and the test with it, where git does: a conflict is a failure. */
  git(...words: string[]): void {
    const who = ["user.name=Bench", "user.email=bench@shop.example", "commit.gpgsign=false"];
    const settings = who.flatMap((each) => ["-c", each]);
    execFileSync("git", [...settings, "-C", this.folder, ...words], { stdio: "pipe" });
  }

  read(name: string): string {
    const path = join(this.folder, name);
    return existsSync(path) ? readFileSync(path, "utf8") : "";
  }

  write(name: string, text: string): void {
    writeFileSync(join(this.folder, name), text);
  }

  commit(files: Readonly<Record<string, string>>): void {
    for (const [name, text] of Object.entries(files)) this.write(name, text);
    this.git("add", ".");
    this.git("commit", "--allow-empty", "-m", "work");
  }

  /** Entries written at the end of a log, begun where there is none yet. */
  log(name: string, ...entries: string[]): void {
    this.commit({ [name]: `${this.read(name) || head}${entries.join("")}` });
  }

  on(branch: string): void {
    this.git("checkout", branch);
  }

  branch(name: string): void {
    this.git("checkout", "-b", name);
  }

  merge(...branches: string[]): void {
    this.git("merge", "--no-edit", ...branches);
  }

  /** The texts of all builds and logs. */
  files(): Map<string, string> {
    const found = readdirSync(this.folder).filter((name) => name.endsWith(".trammel"));
    return new Map(found.map((name) => [`file:///shop/${name}`, this.read(name)]));
  }

  sequence(root = "work.trammel"): Sequence {
    const files = this.files();
    const analysis = new Analyzer(memoryHost(files), library()).analyze(`file:///shop/${root}`);
    if (analysis === undefined) throw new Error(`${root} is there`);
    expect(analysis.findings.map(({ message }) => message)).toEqual([]);
    return sequenceOf(analysis);
  }

  close(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/**
 * Every entry stands in some log, and from each file the work is seen as done. One that was picked
 * over may stand there twice: it counts once, which a note says.
 */
function keeps(shop: Shop, entries: readonly string[]): void {
  const texts = [...shop.files().values()].join("");
  for (const each of entries) expect(texts.split(each).length - 1, each).toBeGreaterThan(0);
  expect(texts).not.toMatch(/^[<=>]{7}/m);
  for (const uri of shop.files().keys()) {
    const { steps, findings } = shop.sequence(uri.replace("file:///shop/", ""));
    const objections = findings.filter(({ severity }) => severity !== "note");
    expect(
      objections.map(({ message }) => message),
      uri,
    ).toEqual([]);
    const done = steps.filter(({ state, holdsSteps }) => state === "done" && !holdsSteps);
    expect(done.length, uri).toBe(entries.length);
  }
}

function played(files: Readonly<Record<string, string>>, play: (shop: Shop) => void): void {
  const shop = new Shop(files);
  try {
    play(shop);
    keeps(shop, all);
  } finally {
    shop.close();
  }
}

const one = "log.trammel";
const begun = { [one]: head + clean };

describe("ten histories of a shop", () => {
  test("each keeps a log of their own, and all are read together", () => {
    played({}, (shop) => {
      shop.branch("ben");
      shop.log("log-ben.trammel", torque, drive);
      shop.on("main");
      shop.log("log-ana.trammel", clean, shim, wheels);
      shop.log("log-cy.trammel", look);
      shop.merge("ben");
    });
  });

  test("both write at the end of one log", () => {
    played(begun, (shop) => {
      shop.branch("ben");
      shop.log(one, torque, drive);
      shop.on("main");
      shop.log(one, shim, wheels, look);
      shop.merge("ben");
    });
  });

  test("they take turns, merging back and forth", () => {
    played(begun, (shop) => {
      shop.branch("ben");
      shop.on("main");
      shop.log(one, shim);
      shop.on("ben");
      shop.log(one, torque);
      shop.merge("main");
      shop.log(one, drive);
      shop.on("main");
      shop.log(one, wheels);
      shop.merge("ben");
      shop.log(one, look);
    });
  });

  test("both merge the other at the same time", () => {
    played(begun, (shop) => {
      shop.branch("ben");
      shop.log(one, torque);
      shop.git("tag", "ben1");
      shop.on("main");
      shop.log(one, shim);
      shop.git("tag", "ana1");
      shop.merge("ben1");
      shop.log(one, wheels);
      shop.on("ben");
      shop.merge("ana1");
      shop.log(one, drive);
      shop.on("main");
      shop.merge("ben");
      shop.log(one, look);
    });
  });

  test("one of them puts their work on top of the other's", () => {
    played(begun, (shop) => {
      shop.branch("ben");
      shop.log(one, torque);
      shop.log(one, drive);
      shop.on("main");
      shop.log(one, shim);
      shop.log(one, wheels, look);
      shop.on("ben");
      shop.git("rebase", "main");
    });
  });

  test("a single entry is picked over before the rest is merged", () => {
    played(begun, (shop) => {
      shop.branch("ben");
      shop.log(one, torque);
      shop.log(one, drive);
      shop.on("main");
      shop.log(one, shim);
      shop.git("cherry-pick", "ben~1");
      shop.log(one, wheels);
      shop.merge("ben");
      shop.log(one, look);
    });
  });

  test("three people at once", () => {
    played(begun, (shop) => {
      for (const [name, entries] of [
        ["ben", [torque, drive]],
        ["cy", [look]],
      ] as const) {
        shop.on("main");
        shop.branch(name);
        shop.log(one, ...entries);
      }
      shop.on("main");
      shop.log(one, shim, wheels);
      shop.merge("ben");
      shop.merge("cy");
    });
  });

  test("both begin the log on the same day", () => {
    played({}, (shop) => {
      shop.branch("ben");
      shop.log(one, torque, drive);
      shop.on("main");
      shop.log(one, clean, shim, wheels, look);
      shop.merge("ben");
    });
  });

  test("work that was not committed yet is put aside while the other's comes in", () => {
    played(begun, (shop) => {
      shop.branch("ben");
      shop.log(one, torque, drive);
      shop.on("main");
      shop.log(one, shim);
      shop.write(one, `${shop.read(one)}${wheels}`);
      shop.git("stash");
      shop.merge("ben");
      shop.git("stash", "pop");
      shop.commit({});
      shop.log(one, look);
    });
  });

  test("the layout is put right on one side, and line ends come from another system", () => {
    played({ [one]: `${head}${clean.replace("{ ", "{").replace(" }", "}")}` }, (shop) => {
      shop.branch("ben");
      shop.commit({ [one]: `${shop.read(one)}${torque}${drive}`.replaceAll("\n", "\r\n") });
      shop.on("main");
      shop.log(one, shim, wheels);
      shop.commit({ [one]: shop.read(one).replace("{job", "{ job").replace("yes}", "yes }") });
      shop.merge("ben");
      shop.commit({ [one]: shop.read(one).replaceAll("\r\n", "\n") });
      shop.log(one, look);
    });
  });
});

describe("logs beside a build", () => {
  const sequence = (files: Readonly<Record<string, string>>, root: string): Sequence => {
    const texts = Object.entries(files).map(
      ([name, text]) => [`file:///shop/${name}`, text] as const,
    );
    const analysis = new Analyzer(memoryHost(new Map(texts), ["file:///shop/"]), library()).analyze(
      `file:///shop/${root}`,
    );
    if (analysis === undefined) throw new Error(`${root} is there`);
    return sequenceOf(analysis);
  };
  const states = ({ steps }: Sequence): string =>
    steps
      .filter(({ holdsSteps }) => !holdsSteps)
      .map(({ state }) => state.charAt(0))
      .join("");

  test("a log of another build in the folder is not read with it", () => {
    const files = {
      "work.trammel": plan,
      "other.trammel": plan,
      "log-ana.trammel": head + clean,
      "log-ben.trammel": `use "other.trammel"\n${clean}${shim}`,
    };
    expect(states(sequence(files, "work.trammel"))).toBe("drbbbb");
    expect(states(sequence(files, "other.trammel"))).toBe("ddrbbb");
  });

  test("a name that leads nowhere in a log is told with the build it is kept of", () => {
    const wrong = entry(2, "Ben", "shim").replace("job", "jobb");
    const shared = `use "parts.trammel"\n${wrong}`;
    const codes = (log: string): string[] => {
      const texts = [
        ["file:///shop/parts.trammel", "procedure spare { step look { } }\n"],
        ["file:///shop/work.trammel", `use "parts.trammel"\n${plan}`],
        ["file:///shop/log-ben.trammel", log],
      ] as const;
      const host = memoryHost(new Map(texts), ["file:///shop/"]);
      const analysis = new Analyzer(host, library()).analyze("file:///shop/work.trammel");
      return (analysis?.findings ?? []).map(({ code, anchor }) => `${code} ${anchor.uri}`);
    };
    expect(codes(head + wrong)).toContain("name/unknown file:///shop/log-ben.trammel");
    // What is kept of parts that several builds share may be about another one.
    expect(codes(shared)).toEqual([]);
  });

  test("a build says which files are its logs", () => {
    const files = {
      "work.trammel": `use "days/*.trammel"\n${plan}`,
      "log-ana.trammel": head + clean,
      "days/march.trammel": `use "../work.trammel"\n${clean}${shim}`,
      "days/april.trammel": `use "../work.trammel"\n${torque}`,
    };
    expect(states(sequence(files, "work.trammel"))).toBe("dddrbb");
  });
});
