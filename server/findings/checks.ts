/**
 * What is said of checks: that they fail, may fail with these tolerances, or cannot be judged.
 *
 * Must not know: how anything is judged.
 */
import type { Anchor } from "../../grammar/anchor";
import type { Dimension, Measure } from "../units";
import type { Code } from "./codes";
import type { Fix, Severity } from "./finding";
import { andList, comparisonInWords } from "./phrases";
import type { Family, Said } from "./said";
import type { Level, Shown, Writer } from "./writer";

/** A text of the library, with what the names in its braces stand for. */
export interface Filled {
  readonly text: string;
  readonly values: Readonly<
    Record<string, string | { readonly si: number; readonly measure: Measure }>
  >;
}

/** What a check compares, as it comes out. */
export type Compared =
  | {
      readonly is: "sides";
      /** As written. */
      readonly left: string;
      readonly right: string;
      /** In SI. */
      readonly found: number;
      readonly wanted: number;
      /** What it is held against is a written figure, and needs no name. */
      readonly literal: boolean;
      readonly relation: ">=" | "<=" | ">" | "<" | "==" | "!=";
      readonly dimension: Dimension;
      readonly measure?: Measure;
    }
  /** Figures of a condition that is no one comparison. */
  | { readonly is: "figures"; readonly figures: readonly Shown[] };

/** How far tolerances reach against a comparison, in SI. */
export type Reach =
  | { readonly is: "unlimited" }
  | {
      readonly is: "up to";
      readonly by: number;
      /** The most that was found, where no more than `by` is proved. */
      readonly found?: number;
    };

/** Shares of builds in which it holds: 0 to 1. */
export interface ChanceFacts {
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

export interface Checked {
  /** Its own code: `clearance/inner-gap`. */
  readonly code: Code;
  readonly title: string;
  /** Of the thing it is about. */
  readonly path?: string;
  readonly severity: Severity;
  readonly message?: Filled;
  readonly advise?: Filled;
  readonly caution?: Filled;
  readonly compared?: Compared;
}

/** How it stands with tolerances, where it holds as drawn. */
export interface Strained {
  readonly rss: "holds" | "fails" | "unknown";
  readonly worst: "fails" | "unknown";
  readonly reach?: Reach;
  /** Where it fails, the fewest figures that let it be seen. */
  readonly witness: readonly Shown[];
  /** Worked out when it is read. */
  chance(): ChanceFacts | undefined;
}

export const checkFindings = {
  "check/fails": (
    facts: Checked & {
      /** Where what its figure is held against is written. */
      readonly limit?: { readonly path: string; readonly given: boolean; readonly at: Anchor };
      /** Read as another figure of its thing, or two as each other, it holds: `backspace: 126 mm`. */
      readonly meant?: { readonly instead: readonly string[]; readonly edits: Fix["edits"] };
    },
    writer,
  ) => {
    const { limit, message, meant } = facts;
    const words = comparedInWords(facts.compared, writer);
    const failing = fill(message, writer) ?? `does not hold: ${facts.title}`;
    const { hint, caution } = remarks(facts, writer);
    const instead = meant?.instead.map((each) => `\`${each}\``);
    const are = meant?.instead.length === 1 ? "is" : "are";
    const asked = instead && `${are} ${andList(instead)} meant? then it holds`;
    const hints = [asked, hint].filter((each) => each !== undefined);
    return {
      hint: hints.length === 0 ? undefined : hints.join("; "),
      caution,
      fixes:
        meant === undefined
          ? []
          : [{ title: `write ${meant.instead.join(", ")}`, edits: meant.edits }],
      severity: gentler(facts.severity, writer.levels.nominal),
      message: `${subject(facts)}${failing}${words === "" ? "" : ` (${words})`}`,
      related:
        limit === undefined
          ? undefined
          : [
              {
                anchor: limit.at,
                message: limit.given
                  ? `${limit.path} is given here`
                  : `${limit.path} is the library's, as nothing else is written`,
              },
            ],
    };
  },
  "check/strained": (facts: Checked & Strained, writer): Said => {
    const { levels } = writer;
    const words = comparedInWords(facts.compared, writer, facts.reach);
    const described = words === "" ? "" : ` (${words})`;
    const { hint, caution } = remarks(facts, writer);
    const further = {
      hint: [hint, witnessInWords(facts.witness, writer)]
        .filter((each) => each !== undefined)
        .join("; "),
      caution,
    };
    const said = { ...further, hint: further.hint === "" ? undefined : further.hint };
    // What is likely to fail fails in the worst case too.
    const likely = harsher(levels.rss, levels.worst);
    if (facts.rss === "fails" && likely !== "off") {
      return {
        ...said,
        severity: gentler(facts.severity, likely),
        message: `${subject(facts)}holds as drawn, but not in all that is likely with these tolerances: ${facts.title}${described}${chanceInWords(facts.chance())}`,
      };
    }
    const how =
      facts.worst === "fails"
        ? "holds as drawn, but not in the worst case"
        : "holds as drawn; whether it holds in the worst case was not settled";
    return {
      ...said,
      severity: gentler(facts.severity, levels.worst),
      message: `${subject(facts)}${how}: ${facts.title}${described}`,
    };
  },
  "check/cannot-judge": ({
    title,
    open,
    valueless,
  }: {
    readonly title: string;
    readonly open: readonly string[];
    /** All figures are there, and with these it comes to nothing. */
    readonly valueless?: boolean;
  }) => ({
    severity: "note",
    message: `cannot judge${valueless === true ? "" : " yet"}: ${title}`,
    hint:
      valueless === true
        ? "with these figures it has no value: look for what is divided by 0, the root of less than 0, or a table without such a row"
        : open.length === 0
          ? "something it names is not there yet"
          : `${andList(open.slice(0, 4))} ${open.length > 1 ? "are" : "is"} missing`,
  }),
  "check/cannot-judge of-thing": ({
    path,
    titles,
    needs,
    missing,
    unanswered,
  }: {
    readonly path?: string;
    readonly titles: readonly string[];
    readonly needs: readonly string[];
    readonly missing: readonly string[];
    /** A question nobody answered, no figure that is not there yet. */
    readonly unanswered: boolean;
  }) => {
    const named = titles.slice(0, 3);
    const more = titles.length - named.length;
    const ways = [
      ...needs,
      ...(missing.length === 0 ? [] : [`missing: ${andList(missing.slice(0, 4))}`]),
    ];
    const told = more > 0 ? `${named.join("; ")}; and ${more} more` : named.join("; ");
    return {
      severity: unanswered ? "warning" : "note",
      message: `${path === undefined ? "" : `${path}: `}not judged yet: ${told}`,
      hint: needs.length === 0 && missing.length === 0 ? undefined : ways.join("; "),
    };
  },
} satisfies Family;

/** What a change does elsewhere, as shown. */
interface EffectTold {
  readonly moves: readonly { readonly path: string; readonly from: string; readonly to: string }[];
  /** Titles of checks that fail with it. */
  readonly breaks: readonly string[];
}

/** `set rear.wheel.offset to 6 mm`, and what there is to know before it is done. */
export function makeItFit(
  changes: readonly {
    readonly path: string;
    readonly shown: string;
    readonly now: string;
    /** Another file than the build's own, which others may use. */
    readonly file?: string;
  }[],
  effect: EffectTold,
): Omit<Fix, "edits"> {
  const each = changes.map(
    ({ path, shown, file }) =>
      `${path} to ${shown}${file === undefined ? "" : ` in ${nameOfFile(file)}`}`,
  );
  const now = changes.map(({ path, now }) => (changes.length === 1 ? now : `${path} ${now}`));
  const files = [...new Set(changes.flatMap(({ file }) => file ?? []))];
  return beforeDone(
    `set ${each.join(" and ")}`,
    effect,
    [`now ${andList(now)}`, ...files.map((file) => `${file} may be used by others`)],
    files.length > 0,
  );
}

/** `rear.wheel: deep in place of shallow`: a part that is there already. */
export function fitAnother(
  { path, part, was }: { readonly path: string; readonly part: string; readonly was: string },
  effect: EffectTold,
): Omit<Fix, "edits"> {
  return beforeDone(`${path}: ${part} in place of ${was}`, effect, [], false);
}

/** Short enough for a menu; all else is read before it is done. */
function beforeDone(
  what: string,
  { moves, breaks }: EffectTold,
  more: readonly string[],
  shared: boolean,
): Omit<Fix, "edits"> {
  const count = breaks.length === 1 ? "a check" : `${breaks.length} checks`;
  const detail = [
    ...more,
    ...(breaks.length === 0 ? [] : [`breaks ${breaks.join("; breaks ")}`]),
    ...(moves.length === 0
      ? []
      : [`moves ${andList(moves.map(({ path, from, to }) => `${path} ${from} to ${to}`))}`]),
  ];
  return {
    title: breaks.length === 0 ? what : `${what}; breaks ${count}`,
    ...(detail.length === 0 ? {} : { detail: detail.join("; ") }),
    ...(shared || breaks.length > 0 ? { ask: true } : {}),
  };
}

/** `wheels.trammel` */
function nameOfFile(file: string): string {
  return file.slice(file.lastIndexOf("/") + 1);
}

// ───────────────────────────── helpers ─────────────────────────────

function subject({ path }: Checked): string {
  return path === undefined ? "" : `${path}: `;
}

function remarks(
  { advise, caution }: Checked,
  writer: Writer,
): { readonly hint: string | undefined; readonly caution: string | undefined } {
  return { hint: fill(advise, writer), caution: fill(caution, writer) };
}

/** `set the knee to {knee_start}`: names in braces stand for their values, as the thing sees them. */
function fill(filled: Filled | undefined, writer: Writer): string | undefined {
  return filled?.text.replaceAll(/\{([a-z_][\w.]*)\}/gi, (whole, path: string) => {
    const value = Object.hasOwn(filled.values, path) ? filled.values[path] : undefined;
    if (value === undefined) return whole;
    return typeof value === "string" ? value : writer.fine(value.si, value.measure);
  });
}

/** `inner_gap is 5/16 in, at least 1/2 in is wanted: 3/16 in short` */
function comparedInWords(compared: Compared | undefined, writer: Writer, reach?: Reach): string {
  if (compared === undefined) return "";
  if (compared.is === "figures") {
    return compared.figures
      .map(({ path, si, measure }) => `${path} is ${writer.fine(si, measure)}`)
      .join(", ");
  }
  const { left, right, found, wanted, literal, relation, dimension, measure } = compared;
  // What rounding explains is forgiven, and nothing is short then.
  const differ = Math.abs(found - wanted) > 1e-9 * Math.max(Math.abs(found), Math.abs(wanted));
  const rising = relation === ">=" || relation === ">";
  const misses = differ && !["==", "!="].includes(relation) && found < wanted === rising;
  const reached =
    reach?.is === "up to" ? [reach.by, ...(reach.found === undefined ? [] : [reach.found])] : [];
  const gaps = [...(misses ? [Math.abs(found - wanted)] : []), ...reached];
  const { figures, apart } = writer.withApart([found, wanted], gaps, measure, dimension);
  const [is = "", other = ""] = figures;
  const further = [...apart];
  const limit = literal ? other : `${right} = ${other}`;
  const short = misses ? `: ${further.shift()} ${found < wanted ? "short" : "over"}` : "";
  return `${left} is ${is}, ${comparisonInWords(relation)} ${limit} is wanted${short}${reachInWords(reach, further)}`;
}

/** `, tolerances take up to 0.020 in`: of one comparison, whose margin has a unit of its own. */
function reachInWords(reach: Reach | undefined, [by, found]: readonly string[]): string {
  if (reach === undefined) return "";
  if (reach.is === "unlimited") return ", with no limit to what tolerances can take";
  return found === undefined
    ? `, tolerances take up to ${by}`
    : `, tolerances take no more than ${by}; the most found is ${found}`;
}

/** `it fails at p.width 2.51 in and p.depth 1.2 in`: the fewest words that let it be seen. */
function witnessInWords(witness: readonly Shown[], writer: Writer): string | undefined {
  if (witness.length === 0 || witness.length > 4) return undefined;
  const texts = writer.alike(witness.map((figure) => ({ as: figure, si: figure.si })));
  const places = witness.map(({ path }, index) => `${path} ${texts[index]}`);
  return `it fails at ${andList(places.sort())}`;
}

/** `; it holds in about 97 % of builds (96 to 98)` */
function chanceInWords(chance: ChanceFacts | undefined): string {
  return chance === undefined ? "" : `; it holds ${buildsInWords(chance)}`;
}

/** `in about 86 % of builds (85 to 87)` */
export function buildsInWords(chance: ChanceFacts): string {
  if (chance.share < 0.0005) return "in under 0.1 % of builds";
  if (chance.share > 0.9995 && chance.low >= 0.999) return "in over 99.9 % of builds";
  const percent = (share: number): string => {
    // Of what fails somewhere nobody says that it always holds.
    const whole = share === chance.share ? Math.min(99.9, 100 * share) : 100 * share;
    return String(Number(whole > 99 || whole < 1 ? whole.toFixed(1) : whole.toFixed(0)));
  };
  const [low, high] = [percent(chance.low), percent(chance.high)];
  const range = low === high ? "" : ` (${low} to ${high})`;
  return `in about ${percent(chance.share)} % of builds${range}`;
}

const order: readonly Level[] = ["off", "note", "warning", "error"];

function harsher(one: Level, other: Level): Level {
  return order.indexOf(one) > order.indexOf(other) ? one : other;
}

/** The gentler of a check's own severity and the reader's; off where the reader wants none. */
function gentler(one: Severity, other: Level): Level {
  return order.indexOf(one) < order.indexOf(other) ? one : other;
}
