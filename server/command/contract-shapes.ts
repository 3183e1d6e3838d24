/**
 * The shapes that what the verbs write has in common: places, findings, values, what is missing.
 *
 * Must not know: any one verb.
 */
import { z } from "zod";
import { schemaVersion } from "./contract-version";

export const version = z.literal(schemaVersion).describe("Version of this contract.");

export const position = z
  .strictObject({
    line: z.int().min(0).describe("Line, the first is 0."),
    character: z.int().min(0).describe("Column in UTF-16 code units, the first is 0."),
  })
  .meta({ id: "position" });

export const range = z
  .strictObject({ start: position, end: position })
  .describe("Half-open: the end is the first character after it.")
  .meta({ id: "range" });

export const file = z
  .string()
  .describe("Relative to the folder the command ran in, with forward slashes.");

export const severity = z.enum(["error", "warning", "note"]);

export const path = z.string().describe("Path of a field under the thing that owns it.");

export const standing = z
  .enum(["given", "assumed", "solved", "measured", "missing"])
  .describe(
    "given: written in the build. assumed: a default of the library. solved: worked out. measured: from a record. missing: too little is given.",
  );

export const finding = z
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

export const acceptance = z
  .enum(["inside", "outside", "unclear"])
  .describe(
    "By the rule of ISO 14253-1: unclear where the reading's own uncertainty leaves it open.",
  );

export const value = z
  .strictObject({
    si: z
      .number()
      .optional()
      .describe(
        "In coherent SI: meters, radians, ratios as plain numbers; each reading as it is written, where `outcome` and `shown` have what readings that say more than enough make of it together. Left out for words and where missing.",
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
    shift: z
      .number()
      .optional()
      .describe(
        "How far the middle of what is likely lies from the value, in SI; left out where it lies at it.",
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

export const need = z.strictObject({
  path,
  advice: z.string().optional().describe("What to measure or choose, in the words of the trade."),
});

export const missing = z
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

export const view = {
  file,
  option: z.string().optional().describe("The option the build was solved under."),
  asBuilt: z
    .literal(true)
    .optional()
    .describe("Measurements of the records stand in for the spec."),
};
