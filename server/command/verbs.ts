/**
 * Every verb of the command line, in the order the help lists them. What a verb does is loaded when
 * it runs, so that no run pays for another verb.
 *
 * Must not know: how arguments are read, how verbs do their work.
 */
import { type Verb, verb } from "./verb";
import { makingVerbs } from "./verbs-making";
import { readingVerbs } from "./verbs-reading";
import { workVerbs } from "./verbs-work";

export const verbs: readonly Verb[] = [
  ...readingVerbs,
  ...workVerbs,
  ...makingVerbs,

  verb<object>({
    name: "reference",
    summary: "print what the library knows about a subject, or a code of a finding means",
    description:
      "Prints the page of a subject of the library as Markdown, or what the code of a finding means; without one, the list of subjects.",
    operands: [
      { name: "subject", says: "a library file, a kind or a code: axle, tire_size, unit/missing" },
    ],
    shared: "none",
    options: [],
    async run(run) {
      const { reference } = await import("./reference");
      return reference(run.operands[0], run.session);
    },
  }),

  verb<object>({
    name: "schema",
    summary: "print the JSON Schema of a verb's --format json",
    description: "Prints the JSON Schema of what a verb writes with --format json.",
    operands: [
      {
        name: "verb",
        says: "which verb's",
        get choices() {
          return schemaVerbs();
        },
      },
    ],
    shared: "none",
    options: [],
    async run(run) {
      const { printSchema } = await import("./schema");
      return printSchema(run.operands[0] ?? "", run.session.world);
    },
  }),
];

/** Those whose `--format json` is a contract. */
export function schemaVerbs(): string[] {
  return verbs.filter(({ schema }) => schema === true).map(({ name }) => name);
}
