/**
 * What the verbs about figures and checks write: show, check, explain, compare, choose, curve.
 *
 * Must not know: how the values come about.
 */
import { z } from "zod";
import { file, finding, missing, path, value, version, view } from "./contract-shapes";

export const showOutput = z.strictObject({
  schemaVersion: version,
  ...view,
  asked: z
    .record(z.string(), z.array(path))
    .optional()
    .describe("For each path asked for: the values it reaches, as they are listed in values."),
  values: z
    .record(z.string(), value)
    .describe("By path; a value is listed once, under the thing that owns it."),
  findings: z.array(finding).describe("Sorted by file, place and code."),
  missing: z.array(missing),
});

export const checkOutput = z.strictObject({
  schemaVersion: version,
  findings: z.array(finding).describe("Sorted by file, place and code."),
  summary: z.strictObject({
    files: z.int().min(0).describe("Builds that were checked."),
    errors: z.int().min(0),
    warnings: z.int().min(0),
    notes: z.int().min(0),
  }),
});

const level = z.enum(["nominal", "rss", "worst"]);

const effect = {
  holds: level.describe("The hardest level at which the check holds with it."),
  moves: z
    .array(z.strictObject({ path, from: z.string(), to: z.string() }))
    .describe("Asked and headline figures that come out otherwise, as shown."),
  breaks: z
    .array(z.strictObject({ title: z.string(), level }))
    .describe("Checks that fail with it and do not without."),
};

const fit = z.strictObject({
  path,
  si: z.number(),
  shown: z.string(),
  was: z.string().optional().describe("What is given now."),
  beside: z
    .strictObject({ path, shown: z.string() })
    .optional()
    .describe("The second figure to change, where one alone does not do."),
  ...effect,
});

const mends = {
  otherParts: z
    .array(
      z.strictObject({
        path: path.describe("The field that names the part."),
        part: z.string().describe("As the build's file calls it."),
        was: z.string().describe("What is written there now."),
        ...effect,
      }),
    )
    .describe(
      "Parts of the build's files, or of those they use, that mend it in the place of what is fitted.",
    ),
  fits: z
    .array(fit)
    .describe(
      "Changes that mend it, those that break nothing first, what is made before what is bought, what was wanted last.",
    ),
};

export const explainOutput = z.strictObject({
  schemaVersion: version,
  ...view,
  path: path.optional(),
  derivation: z
    .lazy(() => derivation)
    .optional()
    .describe("Where the value comes from, each input in turn."),
  contradictions: z
    .array(
      z.strictObject({
        message: z.string(),
        figures: z.array(path).describe("Those that cannot all hold."),
        measured: z.array(path).describe("Of these what was read off something: measure it again."),
        ...mends,
      }),
    )
    .optional()
    .describe("With --fit: givens that contradict each other."),
  checks: z
    .array(
      z.strictObject({
        title: z.string(),
        code: z.string(),
        thing: z.string().optional(),
        condition: z.string(),
        fails: level.describe("The first level at which it fails."),
        tighter: z
          .array(
            z.strictObject({
              figures: z.array(z.strictObject({ path, to: z.string(), from: z.string() })),
              share: z.number().describe("How much of its tolerance each keeps."),
            }),
          )
          .describe(
            "Where it holds as drawn: tolerances to tighten, the one to tighten least first.",
          ),
        ...mends,
      }),
    )
    .optional()
    .describe("With --fit: the checks that fail."),
});

const derivation: z.ZodType<DerivationOutput> = z
  .strictObject({
    path,
    value,
    formula: z.string().optional().describe("The relation in symbols."),
    numbers: z.string().optional().describe("The same with numbers."),
    together: z
      .array(z.string())
      .optional()
      .describe("Relations that were solved together with it."),
    whatever: z
      .enum(["proved", "found"])
      .optional()
      .describe(
        "Figures in these relations stay open, and it is the same whatever they are: proved, or found at the places that were tried.",
      ),
    contributors: z
      .array(z.strictObject({ path, share: z.number(), below: z.number(), above: z.number() }))
      .optional()
      .describe("Where its tolerance comes from, largest first."),
    inputs: z.array(z.lazy(() => derivation)),
    closed: z
      .enum(["elsewhere", "deeper"])
      .optional()
      .describe("Why inputs it has are not listed: opened at another place, or deeper than asked."),
  })
  .meta({ id: "derivation" });

export interface DerivationOutput {
  path: string;
  value: z.infer<typeof value>;
  formula?: string;
  numbers?: string;
  together?: string[];
  whatever?: "proved" | "found";
  contributors?: { path: string; share: number; below: number; above: number }[];
  inputs: DerivationOutput[];
  closed?: "elsewhere" | "deeper";
}

export const compareOutput = z.strictObject({
  schemaVersion: version,
  file,
  options: z
    .array(z.strictObject({ name: z.string(), title: z.string().optional() }))
    .describe(
      'The columns; "spec" is the build without any option, "as built" what the records make of it.',
    ),
  values: z.record(z.string(), z.record(z.string(), value)).describe("By path, then by option."),
  checks: z.array(
    z.strictObject({
      title: z.string(),
      thing: z.string().optional(),
      verdicts: z.record(
        z.string(),
        z.enum([
          "holds",
          "not in all that is likely",
          "not in the worst case",
          "worst case not settled",
          "fails",
          "unknown",
        ]),
      ),
      holdsIn: z
        .record(z.string(), z.number().min(0).max(1))
        .optional()
        .describe("By option, the share of builds it holds in, where not in all that is likely."),
    }),
  ),
  cost: z
    .record(
      z.string(),
      z.strictObject({
        totals: z.array(z.strictObject({ amount: z.number(), currency: z.string() })),
        unpriced: z
          .array(z.string())
          .describe("Things in use that could have a price and have none."),
      }),
    )
    .optional()
    .describe("By option: the prices of what it uses, times their quantities."),
});

const picks = z.array(
  z.strictObject({ field: path, thing: z.string(), title: z.string().optional() }),
);

const aims = z
  .array(
    z.strictObject({
      path: z.string(),
      wanted: z.enum(["least", "most"]),
      si: z.number().optional(),
      shown: z.string().optional(),
    }),
  )
  .describe("What each aim comes to; without a figure where too little is known.");

const passed = z.strictObject({
  picks,
  problems: z.array(z.string()).describe("What is wrong with the build then."),
  aims,
});

export const chooseOutput = z.strictObject({
  schemaVersion: version,
  file,
  combinations: z.int().min(0).describe("How many there are."),
  candidates: z.array(z.strictObject({ field: path, things: z.array(z.string()) })),
  choices: z
    .array(
      z.strictObject({
        picks,
        aims,
        gaps: z
          .array(z.string())
          .optional()
          .describe("What is missing for the aims, or is in another currency."),
        unjudged: z
          .array(z.string())
          .optional()
          .describe("Checks that could not be judged, for want of a figure of what was picked."),
        values: z
          .record(z.string(), value)
          .describe("The values the build asks for, with these things."),
      }),
    )
    .describe("Those that satisfy every check, the best first."),
  complete: z.boolean().describe("False where the search ended before all was looked at."),
  blocking: z.string().optional().describe("Where nothing fits: the check that rules out most."),
  short: z
    .array(z.string())
    .optional()
    .describe("Where nothing fits: what there were too few of for some combination."),
  nearest: z.array(passed).optional().describe("Where nothing fits: those that come nearest."),
  asked: passed.optional().describe("With --why: the things asked about."),
});

export const curveOutput = z.strictObject({
  schemaVersion: version,
  ...view,
  curves: z
    .array(
      z.strictObject({
        path: z.string().describe("The thing it belongs to, and its name."),
        name: z.string(),
        title: z.string(),
        thing: z.string().optional(),
        parameter: z.strictObject({
          name: z.string(),
          unit: z.string().describe('The coherent SI unit of x: "rad/s", "m", "1".'),
        }),
        unit: z.string().describe("The coherent SI unit of y."),
        source: z.string().optional().describe("Where it comes from."),
        points: z
          .array(z.strictObject({ x: z.number(), y: z.number() }))
          .describe("In SI, x ascending; where it has no value there is no point."),
      }),
    )
    .describe("Those that were named, or all; in the order of the build."),
});
