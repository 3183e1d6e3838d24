import { describe, expect, test } from "vitest";
import { validateGrammar } from "../../grammar/parser";
import { parseFile } from "../../grammar/source-file";
import { designExample, libraryExample, onlyItem, problemsOf, shape, valueShape } from "./helper";

test("the grammar does not contradict itself", () => {
  expect(() => validateGrammar()).not.toThrow();
});

test("the design's example is read whole, without a problem", () => {
  expect(problemsOf(designExample)).toEqual([]);
  const kinds = parseFile(designExample).items.map(({ node }) =>
    node.type === "thing" ? `${node.kind.text} ${node.name.text}` : node.type,
  );
  expect(kinds).toEqual([
    "use",
    "use",
    "display",
    "vehicle van",
    "tire rear_tire",
    "wheel rear_wheel",
    "housing rear_housing",
    "axle rear",
    "check",
    "option",
    "record",
  ]);
});

test("a library of every declaration is read without a problem", () => {
  expect(problemsOf(libraryExample)).toEqual([]);
});

describe("values", () => {
  test.each([
    // numbers and quantities
    ["54.349", "54.349"],
    [".5", "0.5"],
    ["1e-3", "0.001"],
    ["3/8", "0.375"],
    ["61 3/8", "61.375"],
    ["61-3/8", "61.375"],
    ["64 - 3/8", "(64 - 0.375)"],
    ["23 1/2 in", "23.5 in"],
    ["12mm", "12 mm"],
    ["12V", "12 V"],
    ["40%", "40 %"],
    ["60 lb-ft", "60 lb-ft"],
    ["7850 kg/m^3", "7850 kg/m^3"],
    ["3 in^2", "3 in^2"],
    ["0.9 kJ/in", "0.9 kJ/in"],
    ["10 in/min", "10 in/min"],
    ["+6 mm", "6 mm"],
    ["2.38 in +/- 0.008 in", "(2.38 in ± 0.008 in)"],
    ["200 deg F", "200 deg F"],
    ["12 / 3 / 4", "((12 / 3) / 4)"],
    ["12/3/4", "((12 / 3) / 4)"],
    ["a / b/c", "((a / b) / c)"],
    ["5 ft 1 3/8 in", "5 ft + 1.375 in"],
    ["3 inn", "3 inn"],
    // tolerances and limits
    ["2.500 in ± 0.010 in", "(2.5 in ± 0.01 in)"],
    ["2 in +- 0.1 in", "(2 in ± 0.1 in)"],
    ["a + b ± c * d", "((a + b) ± (c * d))"],
    ["0.008..0.012 in", "(0.008 in .. 0.012 in)"],
    ["-1..1 in", "((- 1 in) .. 1 in)"],
    ["1 mm..2 in", "(1 mm .. 2 in)"],
    ["2 in within 1.9..2.1 in", "(2 in within 1.9 in .. 2.1 in)"],
    // designations
    ["275/50R17", "<275/50R17>"],
    ["275/50R17 101W", "<275/50R17 101W>"],
    ["275/50R17  116/112S", "<275/50R17 116/112S>"],
    ["LT235/75R15", "<LT235/75R15>"],
    ["P215/65ZR15", "<P215/65ZR15>"],
    ["31x10.50R15", "<31x10.50R15>"],
    ["31x10.50R15LT", "<31x10.50R15LT>"],
    ["17x9", "<17x9>"],
    ["17x9.5", "<17x9.5>"],
    ["5x5 in", "<5x5 in>"],
    ["5x127 mm", "<5x127 mm>"],
    ["M12x1.5", "<M12x1.5>"],
    ["3/8-24", "<3/8-24>"],
    ["7/16-14", "<7/16-14>"],
    ["39:11", "<39:11>"],
    ["112H", "<112H>"],
    ["205R16 104S", "<205R16 104S>"],
    ["195R14C 106/104Q", "<195R14C 106/104Q>"],
    ["7.00R16", "<7.00R16>"],
    ["7.50-16", "<7.50-16>"],
    ["E70-15", "<E70-15>"],
    ["275/35ZR19 (100Y) XL", "<275/35ZR19 (100Y) XL>"],
    ["LT235/85R16 122/119 M+S", "<LT235/85R16 122/119 M+S>"],
    ["6.5Jx16", "<6.5Jx16>"],
    ["6J x 15", "<6J x 15>"],
    ["7 1/2Jx17", "<7 1/2Jx17>"],
    ["7 1/2x17", "<7 1/2x17>"],
    ["15x6 1/2JJ", "<15x6 1/2JJ>"],
    ["5x5 1/2 in", "<5x5 1/2 in>"],
    ["1/2-20 UNF", "<1/2-20 UNF>"],
    ["1/2-20 UNF-2A", "<1/2-20 UNF-2A>"],
    ["A2-70", "<A2-70>"],
    ["1E5 - 2", "(100000 - 2)"],
    ["7.5 - 16", "(7.5 - 16)"],
    // other literals
    ['"say \\"hm\\" and \\\\"', JSON.stringify('say "hm" and \\')],
    ["2026-03-14", "<2026-03-14>"],
    ["yes", "yes"],
    ["no", "no"],
    ["?", "?"],
    ["[a, 2 in, [b]]", "[a, 2 in, [b]]"],
    ["[a,\n  b,\n]", "[a, b]"],
    ["[]", "[]"],
    // how tightly operators bind
    ["a + b * c", "(a + (b * c))"],
    ["a - b - c", "((a - b) - c)"],
    ["a / b / c", "((a / b) / c)"],
    ["a ^ b ^ c", "(a ^ (b ^ c))"],
    ["-a ^ 2", "(- (a ^ 2))"],
    ["2 ^ -a", "(2 ^ (- a))"],
    ["a * -b + c", "((a * (- b)) + c)"],
    ["- -a", "(- (- a))"],
    ["(a + b) * c", "({(a + b)} * c)"],
    ["3/8^2", "(3 / (8 ^ 2))"],
    ["2 * 3/8 in", "(2 * 0.375 in)"],
    ["2 in ^ 2", "(2 in ^ 2)"],
    ["a or b and not c == d", "(a or (b and (not (c == d))))"],
    ["not a and b", "((not a) and b)"],
    ["a + 1 >= b - 1", "((a + 1) >= (b - 1))"],
    ["if a > 1 then b else c + 1", "(if (a > 1) then b else (c + 1))"],
    ["if a then b else if c then d else e", "(if a then b else (if c then d else e))"],
    ["1 + if a then b else c", "(1 + (if a then b else c))"],
    // calls and paths
    ["min(a, b, 2 in)", "min(a, b, 2 in)"],
    ["sum(each(part).price)", "sum(each(part).price)"],
    ["table.column(a.b, 3)", "table.column(a.b, 3)"],
    ["given(x) and y", "(given(x) and y)"],
    // words of the language are names wherever they can be
    ["default.range + check", "(default.range + check)"],
    ["not + 1", "(not + 1)"],
    ["a.if", "a.if"],
    // lines that go on
    ["a +\n  b", "(a + b)"],
    ["a\n  + b", "(a + b)"],
    ["(a\n  + b\n)", "{(a + b)}"],
    ["if a\n  then b\n  else c", "(if a then b else c)"],
    ["\n  18 mm", "18 mm"],
  ])("%s", (text, wanted) => {
    expect(valueShape(text)).toBe(wanted);
  });

  test("a number keeps how it was written", () => {
    const forms = ["3", "3.0", "3/8", "1 3/8"].map((text) => {
      const { node } = onlyItem(`x: ${text}`);
      return node.type === "given" && node.value.type === "number" ? node.value.form : undefined;
    });
    expect(forms).toEqual(["whole", "decimal", "fraction", "mixed"]);
  });
});

describe("members on one line", () => {
  test.each([
    ["a: 1 in   b: 2 in", ["a=1 in", "b=2 in"]],
    ["a: 1   b: 2", ["a=1", "b=2"]],
    ["a: 1; b: 2;", ["a=1", "b=2"]],
    ["a: w; left { }", ["a=w", "left{}"]],
    ["a: 5 in left { }", ["a=5 in", "left{}"]],
    ["m: 5 in: 3", ["m=5", "in=3"]],
    ["a: 5 axle rear { }", ["a=5", "axle rear{}"]],
    ["a: 17x9 in: 3", ["a=<17x9>", "in=3"]],
    ["a: x rear.left.b: 3", ["a=x", "rear.left.b=3"]],
    ['a: 3 check "t": b', ["a=3", "check"]],
  ])("%s", (text, wanted) => {
    const { node, problems } = onlyItem(`thing t { ${text} }`);
    expect(problems).toEqual([]);
    if (node.type !== "thing") throw new Error(node.type);
    const members = node.members.map((member) => {
      if (member.type === "given") return `${shape(member.path)}=${shape(member.value)}`;
      if (member.type === "part") return `${shape(member.path)}{}`;
      return member.type === "thing" ? `${member.kind.text} ${member.name.text}{}` : member.type;
    });
    expect(members).toEqual(wanted);
  });
});

describe("declarations", () => {
  test("a field's parts come in any order", () => {
    const fields = [
      'f: length default 1 in range 0..5 in shown fixed "d" needs "n" source "s"',
      'f: length source "s" "d" shown range 0..5 in needs "n" default 1 in fixed',
      'f: length "d"\n  shown fixed\n  default 1 in\n  range 0..5 in\n  needs "n"\n  source "s"',
    ].map((text) => {
      const { node, problems } = onlyItem(`kind k {\n  ${text}\n  other: length\n}`);
      expect(problems).toEqual([]);
      const field = node.type === "kind" ? node.members[0] : undefined;
      if (field?.type !== "field") throw new Error("expected a field");
      return {
        type: field.fieldType.name?.text,
        default: field.default && shape(field.default),
        range: field.range && shape(field.range),
        words: field.words.map(({ text: word }) => word),
        description: field.description?.value,
        clauses: field.clauses.map(({ word, value }) => `${word.text} ${shape(value)}`).toSorted(),
      };
    });
    expect(fields[0]).toEqual({
      type: "length",
      default: "1 in",
      range: "(0 in .. 5 in)",
      words: ["shown", "fixed"],
      description: "d",
      clauses: ['needs "n"', 'source "s"'],
    });
    expect(fields[1]).toEqual(fields[0]);
    expect(fields[2]).toEqual(fields[0]);
  });

  test.each([
    ["part corner", "part corner"],
    ["part", "named part"],
    ['part "description"', "named part"],
    ["list of step", "list step"],
    ["one_of(a, b)", "choice a b"],
    ["torque", "named torque"],
  ])("the type %s", (text, wanted) => {
    const { node, problems } = onlyItem(`kind k { f: ${text} }`);
    expect(problems).toEqual([]);
    const field = node.type === "kind" ? node.members[0] : undefined;
    if (field?.type !== "field") throw new Error("expected a field");
    const { form, name, choices } = field.fieldType;
    const named = choices?.map((choice) => choice.text).join(" ") ?? name?.text;
    expect(`${form} ${named}`).toBe(wanted);
  });

  test("a clause belongs to what stands before it", () => {
    const { node } = onlyItem(
      'kind k {\n  source "kind"\n  f: length\n    source "field"\n  relation "r": a = b source "relation"\n    because "so"\n}',
    );
    if (node.type !== "kind") throw new Error(node.type);
    const owners = node.members.map((member) =>
      member.type === "clause" ? "kind" : `${member.type} ${member.clauses.length}`,
    );
    expect(owners).toEqual(["kind", "field 1", "relation 2"]);
  });

  test("the clause on a form's own line is the form's", () => {
    const { node } = onlyItem('designation d {\n  form "{a}" source "one"\n  source "two"\n}');
    if (node.type !== "designation_declaration") throw new Error(node.type);
    expect(node.forms[0]?.clauses.length).toBe(1);
    expect(node.clauses.length).toBe(1);
  });

  test("a record takes title and date in either order", () => {
    for (const head of ['"after" 2026-03-14 by "me"', 'by "me" 2026-03-14 "after"']) {
      const { node, problems } = onlyItem(`record ${head} { a.b: 3 in }`);
      expect(problems).toEqual([]);
      if (node.type !== "record") throw new Error(node.type);
      expect([
        node.title?.value,
        node.date?.text,
        node.clauses.length,
        node.members.length,
      ]).toEqual(["after", "2026-03-14", 1, 1]);
    }
  });

  test("a table's rows may share a line and may be broken after a comma", () => {
    const { node } = onlyItem(
      "table t {\n  key a: number\n  b: mass in kg\n  row 1, 2  row -3,\n    4\n}",
    );
    if (node.type !== "table") throw new Error(node.type);
    expect(node.rows.map(({ cells }) => cells.map(shape).join(" "))).toEqual(["1 2", "(- 3) 4"]);
    expect(node.columns.map(({ key, unit }) => `${key} ${unit?.text}`)).toEqual([
      "true undefined",
      "false kg",
    ]);
  });

  test("words of the language name things and fields", () => {
    const text =
      "step check {\n  check: yes\n  range: 3 in\n  order: [a]\n  if: 3\n  record { use: no }\n}";
    expect(problemsOf(text)).toEqual([]);
  });

  test("a check without a title is a check", () => {
    expect(onlyItem("check: a >= b").node.type).toBe("check");
    expect(onlyItem("relation: a = b").node.type).toBe("relation");
  });

  test("a condition may end in a unit", () => {
    const { node } = onlyItem('check "t" when wall < 0.25 in: a');
    expect(node.type === "check" && node.when && shape(node.when)).toBe("(wall < 0.25 in)");
  });
});
