/**
 * What formulas and conditions become over the figures of one thing, or what is wrong with them.
 *
 *     formula("p.a + 1 mm")   →   "p.a + 0.001 (length)"
 */
import { textAt } from "../../grammar/anchor";
import { analyzed } from "./build";
import { conditionText, expressionText, rowsOf } from "./row-text";

const kinds = `table loads "Loads" {
  key at: length in mm
  load: mass in kg
  lookup linear
  row 0, 0
  row 10, 100
}
table words "Words" {
  key at: text
  load: mass in kg
  row "a", 1
}
kind pin "Pin" {
  a: length
  b: length
  n: count
  k: number
  w: mass
  t: angle
  share: ratio
  heat: temperature
  name: text
  other_name: text
  form: one_of(round, square) default round
  good: yes_no default yes
  day: date
  sizes: list of length
  names: list of text
  pin: pin optional
  pins: list of pin
}
pin q {}
pin p { a: 3 in  b: 5 in  n: 2  k: 4  name: "a"  sizes: [1 in, 2 in]  names: [x, y]  day: 2026-03-14  pins: [q] }
`;

/** What a formula becomes, and as what it comes out; or what is wrong with it. */
export function formula(text: string): string {
  const analysis = analyzed(`${kinds}curve c: ${text} over x from 0 to 1\n`);
  const row = rowsOf(analysis).at(-1);
  const [curve] = row?.curves ?? [];
  const told = (row?.findings ?? []).map(({ is, anchor }) => `${is} \`${textAt(anchor)}\``);
  if (curve === undefined) return told.join(", ") || "nothing";
  const { expression, figures } = curve.value;
  const stacks = row?.stacks.length ?? 0;
  return [
    `${expressionText(expression, figures)} (${curve.measure?.name ?? "no measure"})`,
    ...(stacks > 0 ? [`${stacks} stacks`] : []),
    ...told,
  ].join(", ");
}

/** What a condition becomes, its comparison, or what is wrong with it. */
export function condition(text: string): string {
  const analysis = analyzed(`${kinds}check "c": ${text}\n`);
  const row = rowsOf(analysis).at(-1);
  const [claim] = row?.claims ?? [];
  const told = (row?.findings ?? []).map(({ is, anchor }) => `${is} \`${textAt(anchor)}\``);
  if (claim === undefined) return told.join(", ") || "nothing";
  const { condition: held, figures, compared, applies } = claim;
  const sides =
    compared === undefined
      ? ""
      : ` (${expressionText(compared.left, figures)} ${compared.relation} ${expressionText(compared.right, figures)} as ${compared.measure?.name ?? compared.dimension.key})`;
  return `${conditionText(held, figures)}${sides}${applies ? "" : " [not there]"}${told.join(", ")}`;
}

export const all = (texts: string, become: (text: string) => string): string =>
  texts
    .trim()
    .split("\n")
    .map((text) => `${text.trim()}  →  ${become(text.trim())}`)
    .join("\n");
