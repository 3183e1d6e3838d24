/**
 * What the verbs write with `--format json`: a documented contract. Its JSON Schemas are generated
 * from here, checked in under `server/command/schema/` and printed by `trammel schema`.
 *
 * Fields may be added within a version; a change of meaning raises `schemaVersion`.
 *
 * Must not know: how the values come about.
 */
import { z } from "zod";
import { schemaVersion } from "./contract-version";

const version = z.literal(schemaVersion).describe("Version of this contract.");

const position = z
  .strictObject({
    line: z.int().min(0).describe("Line, the first is 0."),
    character: z.int().min(0).describe("Column in UTF-16 code units, the first is 0."),
  })
  .meta({ id: "position" });

const range = z
  .strictObject({ start: position, end: position })
  .describe("Half-open: the end is the first character after it.")
  .meta({ id: "range" });

const file = z
  .string()
  .describe("Relative to the folder the command ran in, with forward slashes.");

const severity = z.enum(["error", "warning", "note"]);

const path = z.string().describe("Path of a field under the thing that owns it.");

export const standing = z
  .enum(["given", "assumed", "solved", "measured", "missing"])
  .describe(
    "given: written in the build. assumed: a default of the library. solved: worked out. measured: from a record. missing: too little is given.",
  );

const finding = z
  .strictObject({
    code: z
      .string()
      .regex(/^[^/\s]+\/[^\s]+$/)
      .describe("Stable: room/what."),
    severity,
    message: z.string().describe("What is wrong, expected against found."),
    hint: z.string().optional().describe("What to do about it."),
    caution: z.string().optional().describe("Where someone could get hurt."),
    file,
    range,
    related: z
      .array(z.strictObject({ message: z.string(), file, range }))
      .optional()
      .describe("Other places that have to do with it."),
  })
  .meta({ id: "finding" });

const acceptance = z
  .enum(["inside", "outside", "unclear"])
  .describe(
    "By the rule of ISO 14253-1: unclear where the reading's own uncertainty leaves it open.",
  );

const value = z
  .strictObject({
    si: z
      .number()
      .optional()
      .describe(
        "In coherent SI: meters, radians, ratios as plain numbers. Left out for words and where missing.",
      ),
    unit: z.string().optional().describe('The coherent SI unit of si: "m", "N*m", "rad", "1".'),
    currency: z.string().optional().describe("ISO 4217 code, for an amount of money."),
    word: z
      .union([z.string(), z.boolean()])
      .optional()
      .describe("Texts, choices, dates, designations, and yes or no."),
    shown: z.string().describe("As the build displays it, with its unit, rounded as it says."),
    decimal: z.string().optional().describe("The same in decimals, beside a fraction."),
    standing,
    role: z
      .enum(["measured", "bought", "made", "wanted", "case", "setting", "limit", "constant"])
      .optional()
      .describe(
        "What the figure is, as the build or its field says; none where it follows from others.",
      ),
    wanted: z
      .strictObject({
        si: z.number(),
        low: z.number().optional(),
        high: z.number().optional(),
      })
      .optional()
      .describe("What is wanted of it where it is written as a wish, and what is accepted, in SI."),
    outcome: z
      .strictObject({
        si: z.number(),
        worst: z.number().min(0).optional(),
        rss: z.number().min(0).optional(),
        low: z.number().optional(),
        high: z.number().optional(),
      })
      .optional()
      .describe(
        "How it comes out, in SI: what is made is made to its step, and wishes give way to it; `si` beside it is as drawn. A side without a limit is left out.",
      ),
    read: z
      .strictObject({
        si: z.number().describe("As it was read."),
        uncertainty: z
          .number()
          .min(0)
          .describe("How surely, one side: the ± written, else half of the last step written."),
        on: z.string().optional(),
        low: z.number().optional().describe("Least value that is accepted."),
        high: z.number().optional().describe("Greatest value that is accepted."),
        acceptance: acceptance.optional(),
        conformity: z
          .number()
          .min(0)
          .max(1)
          .optional()
          .describe("The probability that it lies within what is accepted (JCGM 106)."),
      })
      .optional()
      .describe(
        "As built: the newest reading on record of it, in SI. `si` beside it is another figure where all readings together say so.",
      ),
    worst: z
      .number()
      .min(0)
      .optional()
      .describe(
        "Worst-case ± from the tolerances given, in SI; the larger side where they differ.",
      ),
    worstKnown: z
      .enum(["proved", "found", "unlimited"])
      .optional()
      .describe(
        "How the worst case is known: proved to enclose; the furthest found, no more being known; or no limit, `worst` then being the furthest found.",
      ),
    rss: z
      .number()
      .min(0)
      .optional()
      .describe(
        "Likely ± from the tolerances given, in SI: root sum square, or from draws where the formula is bent.",
      ),
    low: z.number().optional().describe("Least value in the worst case, in SI."),
    high: z.number().optional().describe("Greatest value in the worst case, in SI."),
    relation: z.string().optional().describe("The relation that yields it, as written."),
    title: z.string().optional().describe("What that relation is called."),
    source: z.string().optional().describe("Where that relation comes from."),
    pieces: z
      .string()
      .optional()
      .describe("What to take from a kit for it, such as 0.018 in + 0.007 in."),
    othersNotExcluded: z
      .literal(true)
      .optional()
      .describe("An answer that was found; that there is another one is not excluded."),
    restsOn: z.array(z.string()).optional().describe("What it rests on that was only assumed."),
  })
  .meta({ id: "value" });

const need = z.strictObject({
  path,
  advice: z.string().optional().describe("What to measure or choose, in the words of the trade."),
});

const missing = z
  .strictObject({
    path,
    message: z.string(),
    needs: z
      .array(z.array(need))
      .describe(
        "Smallest sets of further givens, each of which would settle it; most natural first.",
      ),
    file: file.optional(),
    range: range.optional(),
  })
  .meta({ id: "missing" });

const view = {
  file,
  option: z.string().optional().describe("The option the build was solved under."),
  asBuilt: z
    .literal(true)
    .optional()
    .describe("Measurements of the records stand in for the spec."),
};

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

export const explainOutput = z.strictObject({
  schemaVersion: version,
  ...view,
  path: path.optional(),
  derivation: z
    .lazy(() => derivation)
    .optional()
    .describe("Where the value comes from, each input in turn."),
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
            "Parts of the build's files, or of those they use, that make it hold in the place of what is fitted.",
          ),
        fits: z
          .array(fit)
          .describe(
            "Changes that make it hold, those that break nothing first, what is made before what is bought, what was wanted last.",
          ),
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
  value: ValueOutput;
  formula?: string;
  numbers?: string;
  together?: string[];
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
        z.enum(["holds", "likely fails", "may fail", "fails", "unknown"]),
      ),
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

const plannedPass = z.strictObject({
  number: z.int(),
  share: z.number().describe("Of the joint's torque."),
  torque: z.number().optional().describe("At the nut, in N*m."),
  setting: z
    .number()
    .optional()
    .describe(
      "What to set the wrench to, in N*m; open with an adapter and a wrench of unknown length.",
    ),
  turn: z.number().optional().describe("How far each is turned on in this pass, in rad."),
  order: z
    .array(z.array(z.number()))
    .describe(
      "Places, group by group, in the order they are tightened; numbered through all groups.",
    ),
});

const accepted = z
  .array(
    z.strictObject({
      what: z.string().describe("The figure or step, as the entry names it."),
      step: z.string().describe("The step it was accepted at."),
      spec: z.string().optional(),
      found: z.string().optional().describe("As measured."),
      by: z.string().optional(),
      on: z.string().optional(),
      until: z
        .string()
        .optional()
        .describe("The last day it is accepted; for good where left out."),
      because: z.string().optional(),
      follows: z.string().optional().describe("What has to be watched or done."),
      breaks: z.array(z.string()).describe("Limits that rest on it and do not hold as built."),
      standing: z.enum(["in force", "ran out", "withdrawn", "nobody", "nothing"]),
    }),
  )
  .describe("What was accepted out of tolerance.");

export const planOutput = z.strictObject({
  schemaVersion: version,
  ...view,
  steps: z
    .array(
      z.strictObject({
        path: z.string(),
        title: z.string(),
        within: z.array(z.string()).describe("Procedures it belongs to, nearest first."),
        state: z.enum(["ready", "done", "blocked", "again"]),
        doneOn: z.string().optional(),
        doneBy: z.string().optional(),
        again: z.array(z.string()).describe("Why it is open although it is on record as done."),
        waitsFor: z.array(z.strictObject({ path: z.string(), because: z.string() })),
        blockedBy: z.array(
          z.strictObject({
            is: z.enum(["step", "figure", "check", "loop", "part"]),
            path: z.string().optional(),
            text: z.string(),
          }),
        ),
        tightens: z.array(z.string()).describe("Paths of joints."),
        tightenTo: z.number().describe("Share of their torque."),
        rechecks: z.array(z.string()),
        measures: z.array(z.strictObject({ path: z.string(), measured: z.boolean() })),
        needs: z.array(z.string()),
        people: z.number(),
        duration: z.number().optional().describe("Seconds of work."),
        machines: z.array(z.string()),
        parts: z
          .array(z.strictObject({ path: z.string(), title: z.string(), atHand: z.boolean() }))
          .describe("What has to be at hand."),
        hold: z.string().optional(),
        signOff: z.string().optional().describe("Who signs before anything goes on."),
        caution: z.string().optional(),
        note: z.string().optional(),
      }),
    )
    .describe("In an order they can be done in."),
  joints: z.array(
    z.strictObject({
      path: z.string(),
      title: z.string(),
      count: z.number(),
      pattern: z.string(),
      torque: z.number().optional().describe("In N*m."),
      passes: z.array(plannedPass),
      tightenedOn: z.string().optional(),
      recheckedOn: z.string().optional(),
      lacks: z.string().optional().describe("What keeps it from being tight, where work began."),
    }),
  ),
  accepted,
  schedule: z
    .strictObject({
      work: z.number().describe("Seconds of work on the longest way through what is left."),
      holds: z.number().describe("Seconds of waiting on it."),
      path: z.array(z.string()),
      unknown: z.array(z.string()).describe("Steps left for which nobody says how long they take."),
      doneBy: z.string().optional(),
      days: z
        .strictObject({
          people: z.number().optional().describe("How many work at a time."),
          length: z.number().describe("Seconds from beginning to end, nights included."),
          doneBy: z.string().optional(),
          isLonger: z
            .boolean()
            .describe("Whether people or machines make it longer than the longest way."),
          steps: z.array(
            z.strictObject({
              path: z.string(),
              starts: z.string().optional(),
              ends: z.string().optional(),
              waits: z
                .strictObject({ for: z.string(), behind: z.string() })
                .optional()
                .describe("The machine, or `people`, it waits for, and the step that goes first."),
            }),
          ),
          short: z.array(z.string()).describe("Steps that take more people than there are."),
        })
        .optional()
        .describe(
          "With the people there are and one of each machine: a good order, not proved the shortest.",
        ),
    })
    .optional(),
});

export const handoverOutput = z.strictObject({
  schemaVersion: version,
  file,
  asBuilt: z
    .array(
      z.strictObject({
        path: z.string(),
        spec: z.string().optional(),
        built: z.string(),
        si: z.number().describe("As measured, in coherent SI."),
        within: z.boolean().optional().describe("Whether it lies within what the spec allows."),
        acceptance: acceptance.optional(),
        on: z.string().optional(),
        by: z.string().optional(),
        with: z.string().optional(),
      }),
    )
    .describe("The newest reading of each figure."),
  joints: z.array(
    z.strictObject({
      path: z.string(),
      title: z.string(),
      count: z.number(),
      wanted: z.string().optional(),
      recorded: z.string().optional(),
      tightenedOn: z.string().optional().describe("Where it is tight: since when."),
      by: z.string().optional(),
      with: z.string().optional(),
      recheckedOn: z.string().optional(),
      lacks: z.string().optional(),
      notes: z.array(z.string()),
    }),
  ),
  inspections: z.array(
    z.strictObject({
      step: z.string(),
      title: z.string(),
      signed: z.string(),
      on: z.string().optional(),
    }),
  ),
  accepted,
  open: z.array(z.string()).describe("What is still to be done, in order."),
  objections: z.array(
    z.strictObject({ code: z.string(), severity, message: z.string(), place: z.string() }),
  ),
  recheck: z
    .array(
      z.strictObject({
        path: z.string(),
        title: z.string(),
        when: z.string(),
        torque: z.string().optional().describe("What to set the wrench to."),
        doneOn: z.string().optional(),
      }),
    )
    .describe("The card that goes with the vehicle."),
});

export const measureOutput = z.strictObject({
  schemaVersion: z.literal(schemaVersion),
  file: z.string(),
  readings: z
    .array(
      z.strictObject({
        path: z.string(),
        name: z.string(),
        thing: z.string().describe("Path of the thing it belongs to."),
        title: z.string(),
        station: z.string().describe("Where in the work it is read: the sheet of that name."),
        why: z.enum(["open", "too coarse", "a step asks for it"]),
        how: z.string(),
        checks: z.array(z.string()).describe("Checks that wait for it."),
        step: z.string().optional().describe("The step that asks for it."),
        now: z.string().optional().describe("As it is in the build, with its ±."),
        within: z
          .strictObject({ si: z.number(), text: z.string() })
          .optional()
          .describe("How exactly it is needed, one side, for its checks to be decided."),
        instrument: z.string().optional().describe("The plainest one that is fine enough."),
      }),
    )
    .describe("In walking order."),
  undecidable: z
    .array(z.string())
    .describe("Checks that no reading decides: what is made or bought takes up their margin."),
});

export type MeasureOutput = z.infer<typeof measureOutput>;
export type HandoverOutput = z.infer<typeof handoverOutput>;
export type PlanOutput = z.infer<typeof planOutput>;
export type CurveOutput = z.infer<typeof curveOutput>;
export type ChooseOutput = z.infer<typeof chooseOutput>;
export type ShowOutput = z.infer<typeof showOutput>;
export type CheckOutput = z.infer<typeof checkOutput>;
export type ExplainOutput = z.infer<typeof explainOutput>;
export type CompareOutput = z.infer<typeof compareOutput>;
export type FindingOutput = z.infer<typeof finding>;
export type ValueOutput = z.infer<typeof value>;
export type MissingOutput = z.infer<typeof missing>;

/** By verb. */
export const outputs = {
  show: showOutput,
  check: checkOutput,
  explain: explainOutput,
  compare: compareOutput,
  choose: chooseOutput,
  curve: curveOutput,
  plan: planOutput,
  handover: handoverOutput,
  measure: measureOutput,
} as const;

/** The JSON Schema (draft 2020-12) of what a verb writes. */
export function isContract(verb: string): verb is keyof typeof outputs {
  return Object.hasOwn(outputs, verb);
}

export function schemaOf(verb: keyof typeof outputs): Record<string, unknown> {
  const schema = z.toJSONSchema(outputs[verb], { target: "draft-2020-12" });
  return { ...schema, title: `trammel ${verb} --format json` };
}
