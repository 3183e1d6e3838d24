/**
 * Shared by the tests of the language: texts in, short readable descriptions out.
 */

import fc from "fast-check";
import { parseFile } from "../../grammar/source-file";
import type { Expression, Item, SourceFile, Span } from "../../grammar/syntax";
import { textProblemInWords, worded, writerFor } from "../../server/findings/worded";
import { defaultLevels } from "../../server/findings/writer";
import { defaultStyle } from "../../server/units";

/** The example of the language's design, whole. */
export const designExample = `use "parts/wheels.trammel"
use "parts/brakes.trammel" as brakes

display { length: in 1/32; torque: lb-ft }

vehicle van "Harbor delivery van" {
  wheelbase:   114 in
  mass:        3640 lb
}

tire rear_tire { size: 275/50R17 }

wheel rear_wheel {
  size:         17x9
  offset:       18 mm
  stud_circle:  5x5 in
}

housing rear_housing {
  tube_diameter: 3 1/4 in
  tube_wall:     0.188 in
  standoff:      2.500 in ± 0.010 in      # housing end face to shaft flange face
  end_length:    2.0 in
  face_to_face:  ?                        # solved; shown here as an inline value
}

axle rear {
  wheel:    rear_wheel
  tire:     rear_tire
  brake:    brakes.rear_disc
  housing:  rear_housing
  left  { inner_limit: 23 1/2 in; inner_gap: 7/8 in }
  right { inner_limit: 24 11/16 in inner_gap: 7/8 in }
  mount_width: ?
}

check "Leaf spring clears the sidewall": rear.left.inner_gap >= 5/8 in

option bolt_in "Bolt-in axle, other wheels" {
  rear.housing.face_to_face: 57 1/4 in
  rear.wheel.offset: ?
}

record "after welding" 2026-03-14 {
  rear.housing.face_to_face: 58 1/8 in ± 1/32 in
}
`;

/** A text with a declaration of each sort and most forms of value. */
export const libraryExample = `kind wheel is part of axle "Road wheel" {
  size:      rim_size  "Rim diameter code by width between bead seats"
  flange:    length default 0.5 in range 0 in..2 in fixed "Rim flange thickness, one side"
  backspace: length shown needs "measure it"   "Mounting face to the inboard edge"
  left: part corner
  steps: list of step optional
  color: one_of(red, green) default red

  relation "rim halves" when flange > 0.1 in: backspace = (size.width + 2 * flange) / 2 + offset
    source "geometry; ISO 4000-2 terms"
  assume "centered": left.half = -right.half ^ 2
  check "inside": abs(offset) <= size.width / 2 + flange and not (a == b or yes)
    severity warning
    source "geometry"
  curve droop "Droop": load ^ 2 * if load > 3 kg then 1 else 2 over load from 0 kg to 100 kg step 5 kg
}

designation tire_size "Tire size" {
  width: length "Nominal section width"
  form "{width mm}/{aspect %}R{rim in}[ {load_index}{speed text}]" source "ISO 4000-1"
  source "ISO 4000-1"
}

table load_index "Load index" {
  key index: number "Load index"
  load: mass in kg "Load"
  lookup exact
  row 60, 250  row 61, 257
  row 62,
    265
}

order "brakes before the road": brakes.bleed before road_test(step)
  because "it would not stop" source "common practice"

procedure build {
  step weld "Weld the ends" { after: [tack, cool]; hold: 5 min }
  drop: 5 ft 1 3/8 in
  gap: 0.008..0.012 in
  run: 2.500 in within 2.495..2.510 in
  thread: M12x1.5
  cost: sum(each(part).price)
  ratio: 39:11
}
`;

export interface PlainProblem {
  readonly at: string;
  readonly message: string;
}

/** Each problem as `line:column message`, both counted from 1. */
export function problemsOf(text: string): string[] {
  const file = parseFile(text);
  return file.items.flatMap((item) =>
    item.problems.map((problem) => {
      const { line, character } = file.positionAt(file.offsetOf(item) + problem.span.start);
      return `${line + 1}:${character + 1} ${textProblemInWords(problem)}`;
    }),
  );
}

/** The text after every fix that the problems offer, the last one first. */
export function mended(text: string): string {
  const file = parseFile(text);
  let result = text;
  for (const item of file.items.toReversed()) {
    for (const edit of item.problems.toReversed().flatMap((problem) => editsOf(item, problem))) {
      const { start, end } = edit.anchor.span;
      const from = file.offsetOf(item);
      result = result.slice(0, from + start) + edit.text + result.slice(from + end);
    }
  }
  return result;
}

const writer = writerFor(defaultStyle("inch"), defaultLevels);

/** What mends a problem, where one text does. */
export function editsOf(item: Item, { span, ...fact }: Item["problems"][number]) {
  const finding = worded({ ...fact, anchor: { uri: "", item, span } }, writer);
  return finding?.fixes?.[0]?.edits ?? [];
}

/** Everything a reader of the file can see, its places counted in the file, for comparing two files. */
export function visible(file: SourceFile): unknown {
  return file.items.map((item) => {
    const placed = (value: unknown): unknown => {
      if (Array.isArray(value)) return value.map(placed);
      if (typeof value !== "object" || value === null) return value;
      if ("start" in value && "end" in value) {
        const { start, end } = value as Span;
        return { start: file.offsetOf(item, start), end: file.offsetOf(item, end) };
      }
      return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, placed(each)]));
    };
    const { text, comments } = file.standing(item);
    return {
      offset: file.offsetOf(item),
      text,
      comments,
      node: placed(item.node),
      problems: placed(item.problems),
    };
  });
}

export function onlyItem(text: string): Item {
  const { items } = parseFile(text);
  if (items.length !== 1) throw new Error(`expected one item, found ${items.length}`);
  return items[0]!;
}

/** The value of `x: …`, written with parentheses round everything that has parts. */
export function valueShape(text: string): string {
  const item = onlyItem(`x: ${text}`);
  const messages = item.problems.map((problem) => ` !${textProblemInWords(problem)}`).join("");
  if (item.node.type !== "given") throw new Error(`expected a value, found ${item.node.type}`);
  return shape(item.node.value) + messages;
}

export function shape(node: Expression): string {
  switch (node.type) {
    case "number":
      return `${node.value}`;
    case "quantity":
      return node.parts.map(({ number, unit }) => `${number.value} ${unit.text}`).join(" + ");
    case "tolerance":
      return `(${shape(node.nominal)} ± ${shape(node.by)})`;
    case "limits": {
      const nominal = node.nominal === undefined ? "" : `${shape(node.nominal)} within `;
      return `(${nominal}${shape(node.low)} .. ${shape(node.high)})`;
    }
    case "designation":
      return `<${node.text}>`;
    case "text":
      return JSON.stringify(node.value);
    case "yes_no":
      return node.value ? "yes" : "no";
    case "date":
      return `<${node.text}>`;
    case "list":
      return `[${node.items.map(shape).join(", ")}]`;
    case "path":
      return node.names.map(({ text }) => text).join(".");
    case "call": {
      const rest = node.rest === undefined ? "" : `.${shape(node.rest)}`;
      return `${shape(node.callee)}(${node.arguments.map(shape).join(", ")})${rest}`;
    }
    case "unary":
      return `(${node.operator} ${shape(node.operand)})`;
    case "binary":
      return `(${shape(node.left)} ${node.operator} ${shape(node.right)})`;
    case "if":
      return `(if ${shape(node.condition)} then ${shape(node.then)} else ${shape(node.else)})`;
    case "group":
      return `{${shape(node.inner)}}`;
    case "ask":
      return "?";
    case "missing":
      return "∅";
  }
}

// ───────────────────────────── arbitrary texts ─────────────────────────────

const scraps = [
  ..."{}()[]:;,.?±+-*/^=<>!\"'#%°µ\\ \t\n\n\n\r",
  "\r\n",
  "\n  ",
  " { ",
  "\n}\n",
  "axle rear {\n",
  "wheel w ",
  "left {",
  "offset: ",
  "offset:\n",
  "rear.",
  "rear.left.gap",
  'check "x": ',
  'relation "r" when ',
  "kind k is part {\n",
  "table t {\n",
  "row 1, 2 ",
  'record "r" 2026-03-14 {',
  "option o {",
  'order "o": a before b',
  "curve c: x over x from 0 to 1",
  'use "a"',
  "display { length: in 1/32 }",
  "designation d {\n",
  'form "{a}"',
  'source "s"',
  "severity warning",
  'sorce "s"',
  "18 mm",
  "61 3/8 in",
  "61-3/8",
  "275/50R17 101W",
  "5x5 in",
  "3/8-24",
  "39:11",
  "0.1..0.2 in",
  " ± ",
  " within ",
  "if a then b else c",
  "and ",
  "not ",
  "yes",
  "default ",
  "<<<<<<< ours\n",
  "=======\n",
  ">>>>>>> theirs\n",
  '24"',
  "“x”",
  "≥",
  "é",
  "😀",
  "\ufeff",
  "# note\n",
];

/** Text made of pieces of the language in any order, and of anything else. */
export const scrapText = fc
  .array(
    fc.oneof({ weight: 9, arbitrary: fc.constantFrom(...scraps) }, fc.string({ maxLength: 3 })),
    {
      maxLength: 60,
    },
  )
  .map((parts) => parts.join(""));

/** A well-formed text with a few pieces cut out, put in or moved. */
export const damagedText = fc
  .tuple(
    fc.constantFrom(designExample, libraryExample, designExample + libraryExample),
    fc.array(fc.tuple(fc.nat(), fc.nat({ max: 12 }), fc.constantFrom("", ...scraps)), {
      maxLength: 4,
    }),
  )
  .map(([text, edits]) => edits.reduce((result, edit) => applied(result, edit), text));

export const anyText = fc.oneof(
  scrapText,
  damagedText,
  fc.string({ unit: "binary", maxLength: 80 }),
);

/** One edit: from some place, some characters out, some text in. */
export const anyEdit = fc.tuple(
  fc.nat(),
  fc.oneof(fc.nat({ max: 3 }), fc.nat({ max: 200 })),
  fc.oneof(fc.constantFrom("", ...scraps), scrapText),
);

export function applied(
  text: string,
  [at, length, inserted]: readonly [number, number, string],
): string {
  const start = text.length === 0 ? 0 : at % (text.length + 1);
  return text.slice(0, start) + inserted + text.slice(start + length);
}
