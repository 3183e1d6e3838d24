/** Completion, quick fixes, hover and signature help: the document after, not the edit. */
import { expect, test } from "vitest";
import { completions } from "../../server/features/completion";
import { hover } from "../../server/features/hover";
import { quickFixes } from "../../server/features/quick-fixes";
import { signatureHelp } from "../../server/features/signature-help";
import { cursor, dedent, edited } from "./world";

/** The labels offered at the cursor. */
function offers(snippet: string): string[] {
  const { analysis, uri, offset } = cursor(snippet);
  return completions(analysis, uri, offset, { snippets: true }).map((item) => item.label);
}

/** The text after one of the offers was taken. */
function checkTaken(snippet: string, label: string, after: string, snippets = false): void {
  const { analysis, uri, offset, texts } = cursor(snippet);
  const item = completions(analysis, uri, offset, { snippets }).find(
    (each) => each.label === label,
  );
  const edit = item?.textEdit;
  if (edit === undefined || !("range" in edit)) throw new Error(`${label} is not offered`);
  expect(edited(texts.get(uri) ?? "", [edit])).toBe(dedent(after));
}

test("at the top of a file kinds and words of the language are offered, parts of other things not", () => {
  const labels = offers("$0\n");
  expect(labels).toEqual(
    expect.arrayContaining(["wheel", "axle", "option", "record", "check", "use"]),
  );
  expect(labels).not.toContain("corner");
  checkTaken("whe$0\n", "wheel", "wheel ${1:name} {\n\t$0\n}\n", true);
});

test("inside a thing its fields are offered that are not written yet", () => {
  const labels = offers("wheel w {\n  size: 17x9\n  $0\n}\n");
  expect(labels).toEqual(expect.arrayContaining(["offset", "backspace"]));
  expect(labels).not.toContain("size");
  expect(labels).not.toContain("hat_thickness");
  checkTaken("wheel w {\n  off$0\n}\n", "offset", "wheel w {\n  offset: \n}\n");
});

test("inside a part its own fields are offered, on the same line as well", () => {
  expect(offers("axle rear {\n  left {\n    $0\n  }\n}\n")).toContain("inner_limit");
  expect(offers("axle rear {\n  left { inner_limit: 24 in   $0 }\n}\n")).toContain("inner_gap");
});

test("a brace that is not closed yet does not matter", () => {
  expect(offers("axle rear {\n  left {\n    in$0")).toContain("inner_gap");
  expect(offers("wheel w {\n  $0")).toContain("offset");
});

test("after a number the units of the field are offered, the most natural first", () => {
  expect(offers("wheel w { offset: 18 $0 }\n").slice(0, 2)).toEqual(["in", "mm"]);
  expect(offers("wheel w { offset: 23 1/2 $0 }\n")).toContain("in");
  expect(offers("wheel w { offset: 18 mm ± 1/2 $0 }\n")).toContain("mm");
  expect(offers("joint j { torque: 75 $0 }\n")[0]).toBe("lb-ft");
  expect(offers('wheel w { }\ncheck "c": w.offset <= 5 $0\n')).toContain("mm");
  checkTaken("wheel w { offset: 18 m$0 }\n", "mm", "wheel w { offset: 18 mm }\n");
});

test("where a thing is wanted, things of that kind are offered, those of other files too", () => {
  const labels = offers(`
    //- build.trammel
    use "parts.trammel" as parts
    wheel own { }
    tire t { }
    axle rear { wheel: $0 }
    //- parts.trammel
    wheel theirs { }
  `);
  expect(labels.sort()).toEqual(["own", "parts.theirs"]);
});

test("after a dot what is inside is offered", () => {
  const text = 'wheel w { size: 17x9 }\naxle rear { wheel: w }\ncheck "c": ';
  expect(offers(`${text}rear.$0\n`)).toEqual(expect.arrayContaining(["left", "wheel", "track"]));
  expect(offers(`${text}rear.wheel.$0 <= 1 in\n`)).toEqual(
    expect.arrayContaining(["offset", "size"]),
  );
  expect(offers(`${text}rear.wheel.size.$0\n`)).toEqual(
    expect.arrayContaining(["width", "diameter"]),
  );
  checkTaken(
    `${text}rear.left.inner$0 >= 1 in\n`,
    "inner_gap",
    `${text}rear.left.inner_gap >= 1 in\n`,
  );
});

test("designations are offered as places to fill in", () => {
  checkTaken(
    "wheel w { size: $0 }\n",
    "17x8, rim diameter by width",
    "wheel w { size: ${1:17}x${2:8} }\n",
    true,
  );
});

test("a tire is offered as the trade writes it, the likeliest first, and each is one", () => {
  const { analysis, uri, offset } = cursor("tire t { size: $0 }\n");
  const items = completions(analysis, uri, offset, { snippets: false });
  const sorted = items.toSorted((one, other) =>
    (one.sortText ?? "") < (other.sortText ?? "") ? -1 : 1,
  );
  expect(sorted.map(({ label }) => label)).toEqual([
    "255/60R17 106T, metric",
    "215/75R16C 116/114R, commercial",
    "LT245/75R16 120/116S, light truck",
    "31x10.50R15LT 109S, flotation, radial",
    "31x10.50-15LT, flotation, bias ply",
  ]);
  for (const item of sorted) {
    const edit = item.textEdit;
    if (edit === undefined || !("range" in edit)) throw new Error("no edit");
    const build = cursor(`tire t { size: ${edit.newText} }$0\n`);
    expect(build.analysis.findings.map(({ message }) => message)).toEqual([]);
  }
});

test("a form nobody gave an example of loses what may be left out, however deep it stands", () => {
  checkTaken(
    'designation code "Code" {\n  a: number\n  b: number\n  form "{a}[ x[y]{b}]"\n}\nkind k { c: code }\nk one { c: $0 }\n',
    "‹a›",
    'designation code "Code" {\n  a: number\n  b: number\n  form "{a}[ x[y]{b}]"\n}\nkind k { c: code }\nk one { c: ${1:a} }\n',
    true,
  );
});

test("inside `use` the files that could be meant are offered, the nearest first", () => {
  const { analysis, uri, offset, texts } = cursor('use "parts/wh$0"\n');
  const files = [
    "file:///shop/build.trammel",
    "file:///shop/parts/wheels.trammel",
    "file:///stock/tires.trammel",
    "library:/chapters/weld.trammel",
  ];
  const items = completions(analysis, uri, offset, { snippets: false, files });
  expect(items.map(({ label }) => label)).toEqual([
    "parts/wheels.trammel",
    "../stock/tires.trammel",
    "library:chapters/weld.trammel",
  ]);
  const edit = items[0]?.textEdit;
  if (edit === undefined || !("range" in edit)) throw new Error("no edit");
  expect(edited(texts.get(uri) ?? "", [edit])).toBe('use "parts/wheels.trammel"\n');
});

test("a `use` that leads nowhere is mended by a near name", () => {
  const { analysis, uri } = cursor('use "parts/weels.trammel"$0\n');
  const files = ["file:///shop/parts/wheels.trammel", "file:///shop/parts/tires.trammel"];
  const line = { start: { line: 0, character: 6 }, end: { line: 0, character: 6 } };
  const titles = quickFixes(analysis, uri, line, { files }).map(({ title }) => title);
  expect(titles).toEqual(['use "parts/wheels.trammel"']);
});

test("a figure that is missing is put in with how it is measured", () => {
  const text = "wheel w { size: 17x8; backspace: ?$0 }\n";
  const { analysis, uri, offset, texts } = cursor(text);
  const at = analysis.sourceOf(uri)?.positionAt(offset - 1) ?? { line: 0, character: 0 };
  const [fix] = quickFixes(analysis, uri, { start: at, end: at });
  expect(fix?.title).toMatch(/^add w\.offset: \S/);
  const edits = fix?.edit?.changes?.[uri];
  if (edits === undefined) throw new Error("no edits");
  expect(edited(texts.get(uri) ?? "", edits)).toMatch(
    /^wheel w \{ size: 17x8; backspace: \? \}\n\nw\.offset: \? {2}# \S.*\n$/,
  );
});

test("an option offers names from the top, a display block measures and their units", () => {
  expect(offers("wheel w { }\noption o {\n  w.$0\n}\n")).toContain("offset");
  expect(offers("display { $0 }\n")).toContain("torque");
  expect(offers("display { torque: $0 }\n")).toContain("N-m");
});

test("inside a kind, types are offered after the colon, words after the type", () => {
  expect(offers("kind k {\n  a: $0\n}\n")).toEqual(
    expect.arrayContaining(["length", "text", "wheel", "rim_size"]),
  );
  expect(offers("kind k {\n  a: length $0\n}\n")).toContain("shown");
});

test("in a formula functions and tables are offered", () => {
  expect(offers('wheel w { }\ncheck "c": $0\n')).toEqual(
    expect.arrayContaining(["abs", "max", "w"]),
  );
});

test("nothing is offered in comments and texts", () => {
  expect(offers("# whe$0\n")).toEqual([]);
  expect(offers('wheel w "a $0" { }\n')).toEqual([]);
});

/** The text after the quick fix whose title begins so. */
function checkFixed(snippet: string, title: string, after: string): void {
  const { analysis, uri, offset, texts } = cursor(snippet);
  const source = analysis.sourceOf(uri);
  if (source === undefined) throw new Error("no file");
  const at = source.positionAt(offset);
  const actions = quickFixes(analysis, uri, { start: at, end: at });
  const action = actions.find((each) => each.title.startsWith(title));
  const edits = action?.edit?.changes?.[uri];
  if (edits === undefined)
    throw new Error(`no "${title}" among ${actions.map((each) => each.title).join("; ")}`);
  expect(edited(texts.get(uri) ?? "", edits)).toBe(dedent(after));
}

test("a misspelled field and a missing unit are mended", () => {
  checkFixed("wheel w { ofs$0et: 18 mm }\n", "write `offset`", "wheel w { offset: 18 mm }\n");
  checkFixed("wheel w { offset: 18$0 }\n", "write 18 mm", "wheel w { offset: 18 mm }\n");
});

test("a solved value is written in place of its question mark", () => {
  const text = "wheel w { size: 17x9; offset: 1 1/16 in; flange: 1/2 in; backspace: ";
  checkFixed(`${text}?$0 }\n`, "write 6 1/16 in", `${text}6 1/16 in }\n`);
  checkFixed(`${text}?$0 }\n`, "write 6.0625 in", `${text}6.0625 in }\n`);
});

test("a failing check offers what would make it fit, and keeps the tolerance", () => {
  // backspace = 5 in + offset: at most 6 in of it leaves 1 in of offset, less its own ± 1/32 in;
  // wheels come in whole millimeters of offset.
  checkFixed(
    `
    wheel w { size: 17x9; flange: 1/2 in; offset: 2 in ± 1/32 in }
    check "deep enough": w.back$0space <= 6 in
    `,
    "set w.offset to 24 mm (now 2 in; moves w.backspace 7 in to 5.945 in)",
    `
    wheel w { size: 17x9; flange: 1/2 in; offset: 24 mm ± 1/32 in }
    check "deep enough": w.backspace <= 6 in
    `,
  );
});

test("a default that would make a check fit otherwise is offered as a line of its own", () => {
  // gap = 20 mm - slack; 17 mm wants a slack of 3 mm.
  const kind = `kind slot "Slot" {
  slack: length in mm default 2 mm
  gap: length in mm
  relation "gap": gap = 20 mm - slack
  check "loose enough": gap <= 17 mm
}`;
  checkFixed(
    `${kind}\nslot s { gap: ?$0 }\n# below\n`,
    "set s.slack to 3 mm (now 2 mm, as nothing else is written; moves s.gap 18 mm to 17 mm)",
    `${kind}\nslot s { gap: ? }\ns.slack: 3 mm\n# below\n`,
  );
});

test("givens that disagree offer the value that would make them agree", () => {
  checkFixed(
    "wheel w { size: 17x9; flange: 1/2 in; offset: 1 in; backspace: 7$0 in }\n",
    "set w.backspace to 6 in",
    "wheel w { size: 17x9; flange: 1/2 in; offset: 1 in; backspace: 6 in }\n",
  );
});

function hovered(snippet: string): string {
  const { analysis, uri, offset } = cursor(snippet);
  const contents = hover(analysis, uri, offset)?.contents;
  return contents !== undefined && typeof contents === "object" && "value" in contents
    ? contents.value
    : "";
}

test("a hover begins with value and standing, and tells the relation in symbols and numbers", () => {
  const text = hovered("wheel w { size: 17x9; flange: 1/2 in; offset: 1 in   back$0space: ? }\n");
  const [first] = text.split("\n");
  expect(first).toBe("**6 in** (152.4 mm), solved  ");
  expect(text).toContain("backspace = overall_width / 2 + offset\n6 in = 10 in / 2 + 1 in");
  expect(text).toContain("source: ");
  expect(text).toContain("- `w.overall_width` = 10 in, solved by width over the flanges");
  expect(text).toContain("  - `w.size.width` = 9 in, given in [build.trammel:1](");
});

test("a hover on the value itself says the same as on its name", () => {
  const at = (mark: string) => hovered(`wheel w { size: 17x9; offset: 1 in   backspace${mark} }\n`);
  expect(at(": ?$0")).toBe(at("$0: ?"));
});

test("a tolerance is told with what it comes from", () => {
  const text = hovered(
    "wheel w { size: 17x9; flange: 1/2 in; offset: 1 in ± 1/16 in   back$0space: ? }\n",
  );
  expect(text).toContain("± 1/16 in at worst");
  expect(text).toContain("- `w.offset`: ± 1/16 in, 100 %");
});

test("things, kinds, fields, functions, units and designations explain themselves", () => {
  expect(hovered('wheel w$0 "In hand" { size: 17x9 }\n')).toContain("**In hand**, wheel `w`");
  expect(hovered("whe$0el w { }\n")).toContain("kind `wheel`");
  expect(hovered("wheel w { off$0set: 1 in }\n")).toContain("positive when the face is outboard");
  expect(hovered('wheel w { }\ncheck "c": ab$0s(w.offset) <= 1 in\n')).toContain("`abs(value)`");
  expect(hovered("joint j { torque: 75 lb-f$0t }\n")).toContain("1.355818");
});

test("numbers in a formula are put in place of the right names", () => {
  const text = hovered(`
    wheel w { size: 17x9; offset: 1 in }
    axle rear {
      wheel: w
      left { mount_face: 32 in   tire_cen$0ter: ? }
    }
  `);
  expect(text).toContain("= 32 in + 0 in - 1 in");
});

test("a function says which of its places is being filled", () => {
  const help = (snippet: string) => {
    const { analysis, uri, offset } = cursor(snippet);
    const found = signatureHelp(analysis, uri, offset);
    return found === undefined
      ? undefined
      : `${found.signatures[0]?.label} ${found.activeParameter}`;
  };
  expect(help('wheel w { }\ncheck "c": round(w.offset, $0) <= 1 in\n')).toBe(
    "round(value, [step]) 1",
  );
  expect(help('wheel w { }\ncheck "c": round(abs(w.offset), $0) <= 1 in\n')).toBe(
    "round(value, [step]) 1",
  );
  expect(help("wheel w { offset: $0 }\n")).toBeUndefined();
});
