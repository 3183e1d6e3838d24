/**
 * The boundary holds: in a build in which everything that can be said says something hostile, no
 * verb and no feature hands any of it on as it stands.
 */
import { marked } from "marked";
import { describe, expect, test } from "vitest";
import { textAt } from "../../grammar/anchor";
import { verbs } from "../../server/command/verbs";
import { completions } from "../../server/features/completion";
import { readHintData } from "../../server/features/hint-fitting";
import { hover } from "../../server/features/hover";
import { hintTooltip, inlayHints } from "../../server/features/inlay-hints";
import { signatureHelp } from "../../server/features/signature-help";
import { workshop } from "../command/workshop";
import { analyzed, folder } from "../model/build";

const bad =
  "x ![p](https://evil.test/p.png) [l](https://evil.test) <img src='https://evil.test'> https://evil.test `c` \u001b[31m \u009b2J \u202e | ##[error]x";

/** Titles, descriptions, sources, needs, advice, cautions, notes, choices: all of them hostile. */
const build = `
kind frame "${bad}" {
  width: length shown default 3 in "${bad}" needs "${bad}" source "${bad}"
  height: length "${bad}" needs "${bad}"
  area: area shown "${bad}"
  note: text "${bad}"
  relation "${bad}": area = width * height
    source "${bad}" because "${bad}"
  check "${bad}": width > 4 in
    source "${bad}" because "${bad}" advise "${bad}" caution "${bad}" message "${bad}"
  curve spread "${bad}": area * n over n from 1 to 3 step 1
    source "${bad}"
}
table sizes "${bad}" {
  key of: length in in "${bad}"
  to: length in in "${bad}"
  source "${bad}"
  row 1, 2
}
frame f "${bad}" {
  height: 2 in ± 0.1 in
  note: "${bad}"
  area: ?
  check "${bad}": area < 1 in^2
}
frame g "${bad}" { area: ?  width: ? }
joint j "${bad}" { thread: 1/2-20 count: 5 torque: 80 lb-ft }
procedure work "${bad}" {
  step first "${bad}" { tighten: j note: "${bad}" caution: "${bad}" }
  step second "${bad}" { after: first }
}
option wide "${bad}" { f.width: 5 in  f.area: ? }
record "${bad}" 2026-02-03 { f.height: 2.05 in }
`;

const hosts = /evil\.test/;
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const acting = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/;

/** Nothing in it is fetched, followed or drawn that the build's texts ask for. */
function faultsOf(markdown: string): string[] {
  const html = String(marked.parse(markdown, { gfm: true }));
  const tags = [...html.matchAll(/<(?:img|a|iframe|script)\b[^>]*>/gi)].map(([tag]) => tag);
  return [
    ...tags.filter((tag) => hosts.test(tag) || tag.startsWith("<img")),
    ...(acting.test(markdown) ? [`acts: ${JSON.stringify(markdown.slice(0, 200))}`] : []),
  ];
}

const analysis = analyzed(build);
const uri = `${folder}build.trammel`;
const source = analysis.sourceOf(uri);
if (source === undefined) throw new Error("the build is there");
const offsets = Array.from({ length: build.length }, (_, at) => at).filter((at) =>
  /\w/.test(build[at] ?? ""),
);

test("the build says all of it", () => {
  const wrong = analysis.findings.filter(({ code }) => /^(syntax|name|value|unit)\//.test(code));
  expect(wrong.map(({ code, anchor }) => `${code} ${textAt(anchor)}`)).toEqual([]);
  expect(analysis.valueAt("f.area")?.standing).toBe("solved");
});

describe("in the editor", () => {
  test("under the pointer", () => {
    const found = new Set<string>();
    let shown = 0;
    for (const at of offsets) {
      const answer = hover(analysis, uri, at);
      if (answer === undefined) continue;
      shown++;
      const { contents } = answer;
      for (const fault of faultsOf(
        typeof contents === "object" && "value" in contents ? contents.value : "",
      ))
        found.add(fault);
    }
    expect(shown).toBeGreaterThan(100);
    expect([...found]).toEqual([]);
  });

  test("in completion and signatures", () => {
    const found = new Set<string>();
    const look = (said: unknown) => {
      if (typeof said === "object" && said !== null && "value" in said)
        for (const fault of faultsOf(String(said.value))) found.add(fault);
    };
    for (const at of offsets.filter((_, index) => index % 7 === 0)) {
      for (const item of completions(analysis, uri, at, { snippets: true }))
        look(item.documentation);
      for (const { documentation } of signatureHelp(analysis, uri, at)?.signatures ?? [])
        look(documentation);
    }
    expect([...found]).toEqual([]);
  });

  test("beside the lines", () => {
    const all = { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } };
    const settings = { enabled: true, asked: true, headlines: true, records: true, steps: true };
    const hints = inlayHints(analysis, uri, all, settings);
    expect(hints.length).toBeGreaterThan(3);
    for (const hint of hints) {
      const data = readHintData(hint.data);
      if (data === undefined) continue;
      expect(faultsOf(hintTooltip(analysis, data)?.value ?? "")).toEqual([]);
    }
  });
});

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const ours = /\u001b\[(0|1|2|4|22|24|3[1236]|39)m/g;

describe.each(["never", "always"])("on the command line, colors %s", (color) => {
  const name = "a\n::error file=x::y\u001b[31m\u202e.trammel";
  const shop = workshop({ [name]: build, "plain.trammel": build });
  const args: Readonly<Record<string, readonly string[]>> = {
    explain: ["f.area"],
    curve: ["--all"],
    choose: ["--for", "f.width", "--by", "f.area"],
  };
  const formats: Readonly<Record<string, readonly string[]>> = {
    check: ["text", "json", "sarif", "github"],
    show: ["text", "json"],
    explain: ["text", "json"],
    compare: ["text", "json"],
    curve: ["text", "json"],
    choose: ["text", "json"],
  };
  // A file itself is written as it is: it is no message of ours.
  const all = verbs.map(({ name: verb }) => verb).filter((verb) => verb !== "format");
  const runs = all.flatMap((verb) =>
    (formats[verb] ?? [""]).map((format) => [verb, format] as const),
  );

  let said = 0;
  test.each(runs)("%s %s", async (verb, format) => {
    for (const file of [name, "plain.trammel"]) {
      const { out, log } = await shop.trammel(
        verb,
        file,
        ...(args[verb] ?? []),
        ...(format === "" ? [] : ["--format", format]),
        "--color",
        color,
      );
      // Colors of ours, and none that a text asks for.
      for (const text of [out, log].map((each) => each.replaceAll(ours, ""))) {
        expect(text).not.toMatch(acting);
        const lines = text.split("\n");
        // Annotations of our own are the only ones.
        const commands = lines.filter((line) => /^\s*::/.test(line) || /##(\[|vso)/.test(line));
        if (format === "github")
          expect(
            commands.every((line) => line.startsWith("::") && !line.includes("file=x::")),
          ).toBe(true);
        else expect(commands).toEqual([]);
      }
      if (format === "json" || format === "sarif") if (out !== "") JSON.parse(out);
      said += out.length;
    }
  });

  test("most of them had something to say", () => {
    expect(said).toBeGreaterThan(5_000);
  });
});
