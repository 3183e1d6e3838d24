/**
 * What is said of how figures come out: missing, other than wanted, stacked from a kit.
 *
 * Must not know: how anything is solved.
 */
import type { Anchor } from "../../grammar/anchor";
import type { Measure } from "../units";
import { caseInWords } from "./failures";
import { andList } from "./phrases";
import type { Family } from "./said";
import type { Shown, Writer } from "./writer";

/** A smallest set of figures that would settle what is missing. */
export type Needs = readonly (readonly { readonly path: string; readonly advice?: string }[])[];

export interface FollowsFrom {
  readonly paths: readonly string[];
  readonly asked: readonly string[];
}

/** Relations that speak of a figure where they hold; without `when`, in a branch that is not taken. */
export type CasesPassedOver = readonly { readonly title: string; readonly when?: string }[];

/** Why one figure is missing. */
export interface Missing {
  readonly path: string;
  /** Left out as long as nobody worked it out. */
  readonly needs?: Needs;
  /** What failed behind it: another finding. */
  readonly failed?: { readonly is: string };
  /** Some relation speaks of it. */
  readonly spokenOf: boolean;
  /** What it would follow from, all of which nobody is told to give: some of it is asked for itself. */
  readonly followsFrom?: FollowsFrom;
  /** All that speaks of it holds in cases alone, and none of these is so. */
  readonly passedOver?: CasesPassedOver;
  readonly advice?: string;
}

export const outcomes = {
  "missing/value": (
    {
      missing,
    }: {
      /** Figures that the same further figures would settle, in the order they are asked for. */
      readonly missing: readonly (Missing & { readonly asked: Anchor })[];
    },
    writer,
  ) => {
    const [first, ...others] = missing;
    const shown = missing.slice(0, mostNamed).map(({ path }) => path);
    const more = missing.length - shown.length;
    const names = more === 0 ? andList(shown) : `${shown.join(", ")} and ${more} more`;
    return {
      severity: "warning",
      message:
        others.length === 0 && first !== undefined
          ? missingInWords(first, writer)
          : `${names} cannot be worked out yet`,
      hint:
        first?.needs === undefined || first.failed !== undefined ? undefined : wayOut(first.needs),
      related: others.map(({ asked, path }) => ({
        anchor: asked,
        message: `${path} is asked for here`,
      })),
    };
  },
  "wanted/missed": (
    {
      figure,
      wanted,
      comes,
      accepted,
      against,
      shares,
    }: {
      readonly figure: Shown;
      /** In SI, as `comes`. */
      readonly wanted: number;
      readonly comes: number;
      readonly accepted?: { readonly low: number; readonly high: number };
      /** The figure that stands most against it. */
      readonly against?: Shown & {
        readonly role?: string;
        /** What it would have to be. */
        readonly needed?: number;
      };
      /** As drawn it is met: what is made to answer it answers other wishes, too. */
      readonly shares?: { readonly made: Shown; readonly wishes: readonly string[] };
    },
    writer,
  ) => {
    const { measure, path } = figure;
    const { figures, apart } = writer.withApart(
      [wanted, comes, ...(accepted === undefined ? [] : [accepted.low, accepted.high])],
      [Math.abs(comes - wanted)],
      measure,
    );
    const [asked, found, ...around] = figures;
    const by = `${apart[0]} ${comes < wanted ? "under" : "over"}`;
    const within = accepted === undefined ? "" : `, ${around.join(" to ")} is accepted`;
    const role = against?.role === undefined ? "" : ` (${against.role})`;
    const is =
      against === undefined
        ? ""
        : `: ${against.path} is ${writer.like(against, against.si)}${role}`;
    const asks =
      against?.needed === undefined
        ? ""
        : `; ${writer.like(figure, wanted)} asks for ${writer.like(against, against.needed)}`;
    const both =
      shares === undefined
        ? ""
        : `: ${shares.made.path} is ${writer.like(shares.made, shares.made.si)} and answers ${andList(shares.wishes)}, too`;
    const change =
      shares === undefined ? "change what stands against it" : "let each be answered by its own";
    return {
      severity: "warning",
      message: `${path} was wanted ${asked} and comes out ${found}, ${by}${within}${is}${asks}${both}`,
      hint: `${change}, or accept ${found}`,
    };
  },
  "kit/shared": (
    {
      path,
      kit,
      others,
      ...pieces
    }: Pieces & {
      readonly path: string;
      readonly kit: string;
      readonly others: readonly string[];
    },
    writer,
  ) => ({
    severity: "note",
    message: `${path}: take ${piecesInWords(pieces, writer)} instead, so that ${kit} serves ${andList(others.slice(0, 4))} too`,
    hint: "the sum differs from the stack this one would get alone",
  }),
  "kit/short": (
    {
      path,
      kit,
      residual,
      ...pieces
    }: Pieces & {
      readonly path: string;
      readonly kit: string;
      /** What is left to fill, in SI; below zero what is too much. */
      readonly residual: number;
    },
    writer,
  ) => ({
    severity: "warning",
    message: `${path}: ${kit} does not hold enough pieces for all: ${piecesInWords(pieces, writer)} is the nearest left, ${writer.fine(Math.abs(residual), pieces.measure)} ${residual > 0 ? "short" : "over"}`,
    hint: "add the missing sizes to the kit, or allow more to be left over",
  }),
  "unit/two-currencies": ({
    first,
    other,
  }: {
    readonly first: Priced;
    readonly other: Priced;
  }) => ({
    message: `${other.path} is in ${other.currency}, ${first.path} in ${first.currency}: a build is reckoned in one currency`,
    hint: "write all amounts in the same currency, at the rate you pay",
    related: [{ anchor: first.anchor, message: `${first.path} is given here` }],
  }),
} satisfies Family;

interface Priced {
  readonly path: string;
  readonly currency: string;
  readonly anchor: Anchor;
}

/** What to take out of a kit, in SI. */
export interface Pieces {
  readonly pieces: readonly number[];
  readonly measure?: Measure;
}

/** `0.018 in + 0.007 in`; `none` where nothing is to be stacked. */
export function piecesInWords({ pieces, measure }: Pieces, writer: Writer): string {
  if (pieces.length === 0) return "none";
  return pieces.map((piece) => writer.fine(piece, measure)).join(" + ");
}

/** `rear.mount_width cannot be worked out yet`; what would settle it is told beside it. */
export function missingInWords(
  { path, needs, failed, spokenOf, followsFrom, passedOver, advice }: Missing,
  writer: Writer,
): string {
  const name = `${path} cannot be worked out yet`;
  if (failed !== undefined) return `${name}: ${writer.message(failed)}`;
  if (needs?.length !== 0) return name;
  if (followsFrom !== undefined) {
    const { paths, asked } = followsFrom;
    const which = paths.length === asked.length ? "which" : `of which ${andList(asked)}`;
    const are = asked.length > 1 ? "are" : "is";
    return `${name}: it would follow from ${andList(paths)}, ${which} ${are} asked for as well`;
  }
  if (passedOver !== undefined) {
    return `${name}: none of the cases that speak of it holds: ${andList(passedOver.map(caseInWords))}`;
  }
  const how = advice === undefined ? "" : `; ${advice}`;
  return spokenOf
    ? `${name}: what leads to it is open as well, and no few figures more would settle it${how}`
    : `${name}: nothing in the build leads to it${how}`;
}

/** `give rear.wheel.offset (read the offset stamped in the wheel)`; the next best where it is short. */
export function wayOut(needs: Needs): string | undefined {
  const ways = needs.map((set) =>
    andList(set.map(({ path, advice }) => (advice === undefined ? path : `${path} (${advice})`))),
  );
  const [first, second] = ways;
  if (first === undefined) return undefined;
  const both = `give ${first}, or ${second}`;
  return second !== undefined && both.length <= longestHint ? both : `give ${first}`;
}

// ───────────────────────────── helpers ─────────────────────────────

const longestHint = 160;
const mostNamed = 3;
