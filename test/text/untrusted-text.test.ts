/** What others wrote is read as words: by a terminal, a Markdown or HTML reader, a job's log. */
import fc from "fast-check";
import { marked } from "marked";
import { describe, expect, test } from "vitest";
import {
  codeForMarkdown,
  forHtml,
  forJobLog,
  forJobLogProperty,
  forJson,
  forMarkdown,
  forOutputLine,
  forSarif,
  forTerminal,
} from "../../server/text/untrusted-text";
import { hostile } from "./hostile";

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const acting = /[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;

const runs = { numRuns: 2_000, seed: 10 };

test("a terminal shows one line and obeys nothing", () => {
  expect(forTerminal("a\u001b[2Jb\nc")).toBe("a␛[2Jb␊c");
  fc.assert(
    fc.property(hostile, (text) => !acting.test(forTerminal(text))),
    runs,
  );
  fc.assert(
    fc.property(fc.stringMatching(/^[\p{L}\p{N}\p{P} ]*$/u), (text) => forTerminal(text) === text),
    runs,
  );
});

test("no line of output is a command to the service a job runs on", () => {
  fc.assert(
    fc.property(hostile, (text) => {
      const line = forOutputLine(text);
      return !/^\s*::/.test(line) && !/##(\[|vso\[)/i.test(line) && !acting.test(line);
    }),
    runs,
  );
  expect(forJobLog("50%\n::error::x")).toBe("50%25%0A::error::x");
  expect(forJobLogProperty("a:b,c\n")).toBe("a%3Ab%2Cc%0A");
});

describe("a reader of Markdown", () => {
  const shownBy = (html: string) =>
    html
      .replace(/<[^>]*>/g, "")
      .replaceAll("&lt;", "<")
      .replaceAll("&gt;", ">")
      .replaceAll("&quot;", '"')
      .replaceAll("&#39;", "'")
      .replaceAll(/&#(\d+);/g, (_, code) => String.fromCharCode(Number(code)))
      .replaceAll("&amp;", "&");

  test.each([
    ["alone", (text: string) => text, "p"],
    ["in bold", (text: string) => `**a ${text} b**, c`, "p|strong"],
    ["in a list", (text: string) => `- a: ${text}`, "ul|li"],
    ["in a table", (text: string) => `| a |\n| --- |\n| ${text} |`, "table|thead|tbody|tr|th|td"],
  ])("shows the very characters, %s", (_, around, allowed) => {
    fc.assert(
      fc.property(hostile, (text) => {
        const html = String(marked.parse(around(forMarkdown(text)), { gfm: true }));
        const tags = [...html.matchAll(/<\/?([a-z0-9]+)/gi)].map(([, tag]) => tag);
        const others = tags.filter((tag) => !new RegExp(`^(${allowed})$`).test(tag ?? ""));
        const words = (shown: string) => shown.replaceAll(/\s+/g, "");
        return others.length === 0 && words(shownBy(html)).includes(words(forTerminal(text)));
      }),
      runs,
    );
  });

  test("shows code as it is", () => {
    fc.assert(
      fc.property(
        hostile.filter((text) => text.trim() !== "" && !text.includes("|")),
        (text) => {
          const html = String(marked.parse(`a ${codeForMarkdown(text)} b`, { gfm: true }));
          const inside = /^<p>a <code>([\s\S]*)<\/code> b<\/p>\n$/.exec(html)?.[1];
          return inside !== undefined && shownBy(inside).trim() === forTerminal(text).trim();
        },
      ),
      runs,
    );
  });
});

test("HTML and SVG show text, in quotes of either sort too", () => {
  expect(forHtml(`<a b="c" d='e'>&`)).toBe("&lt;a b=&quot;c&quot; d=&#39;e&#39;&gt;&amp;");
  fc.assert(
    fc.property(hostile, (text) => !/[<>"'`]/.test(forHtml(text))),
    runs,
  );
});

test("JSON says the same without anything a terminal would act upon", () => {
  fc.assert(
    fc.property(hostile, (text) => {
      const json = forJson(JSON.stringify(text, undefined, 2));
      // JSON.stringify writes halves of characters as escapes already.
      return JSON.parse(json) === text && !acting.test(json);
    }),
    runs,
  );
});

test("a message of SARIF holds no link", () => {
  expect(forSarif("see [this](https://x.test) and [that]")).toBe(
    "see \\[this](https://x.test) and [that]",
  );
});
