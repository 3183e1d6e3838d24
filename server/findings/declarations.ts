/**
 * What is wrong with how a table's rows and the forms of designations are declared.
 *
 * Must not know: how anything is read.
 */
import { type FormProblem, type Measure, measureInWords } from "../units";
import type { Family } from "./said";

export const declarationFindings = {
  "table/row": ({ values, columns }: { readonly values: number; readonly columns: number }) => ({
    message: `this row has ${values} ${values === 1 ? "value" : "values"}, the table has ${columns} columns`,
    hint: "write one value for each column, with commas between them",
  }),
  "table/row cell": ({
    column,
    measure,
  }: {
    readonly column: string;
    readonly measure: Measure;
  }) => ({ message: `\`${column}\` takes ${measureInWords(measure)} in each row` }),
  "designation/form": ({ problem }: { readonly problem: FormProblem }) => ({
    message: `this form cannot be read: ${formInWords(problem)}`,
  }),
} satisfies Family;

// ───────────────────────────── helpers ─────────────────────────────

function formInWords(problem: FormProblem): string {
  switch (problem.is) {
    case "empty":
      return "it is empty";
    case "long":
      return `it is longer than ${problem.most} characters`;
    case "unmatched":
      return `a "${problem.sign}" without its "${problem.other}"`;
    case "deep":
      return "too many brackets inside each other";
    case "not-a-part":
      return `"{${problem.text}}" is not a part name with a unit, a measure or "text" after it`;
    case "unknown-part":
      return `there is no part \`${problem.part}\``;
    case "twice":
      return `\`${problem.part}\` stands in it twice`;
    case "text-with-unit":
      return `\`${problem.part}\` is a text and has no unit`;
    case "not-a-text":
      return `\`${problem.part}\` is ${measureInWords(problem.measure)}, not a text`;
    case "no-unit":
      return `\`${problem.part}\` needs a unit of ${problem.measure.title} after it`;
    case "wrong-unit":
      return `\`${problem.part}\` is ${measureInWords(problem.measure)}, which ${problem.unit} does not measure`;
    case "unknown-unit":
      return `"${problem.unit}" after \`${problem.part}\` is neither a unit of ${problem.measure.title} nor that measure`;
  }
}
