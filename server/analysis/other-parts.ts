/**
 * Parts that are there already, in the build's files or those they use, which would make a failing
 * check hold in the place of what is fitted: each put into the whole build.
 *
 *     otherParts(source, claim)   →   [{ path: "rear.wheel", part: "wheels.deep", was: "rear_wheel", … }]
 *
 * Must not know: how changes are offered.
 */
import { type Anchor, textAt } from "../../grammar/anchor";
import { fitAnother } from "../findings/checks";
import type { Fix } from "../findings/finding";
import { Binder, namesOfKind } from "../model/binder";
import type { ModelClaim } from "../model/model";
import type { Thing } from "../model/thing";
import { failingLevel, marginOf, sensitivities } from "../solve";
import type { OtherPart } from "./analysis";
import { effectOf } from "./fits";
import { SolvedCell } from "./reasons";
import { type CheckSource, verdictOfClaim } from "./verdicts";

/** So many parts are tried in the build, and so many are told. */
const mostTried = 24;
const mostTold = 4;

export interface PlacedPart extends OtherPart {
  /** Where the part that is fitted is named, where that may be changed. */
  readonly anchor?: Anchor;
}

/** Those that break nothing first. */
export function otherParts(source: CheckSource, claim: ModelClaim): PlacedPart[] {
  const level = claim.applies ? failingLevel(verdictOfClaim(source, claim)) : undefined;
  if (level === undefined) return [];
  const { reading } = source;
  const { vocabulary, build, workshop } = reading;
  let tried = 0;
  const found = fittedIn(source, claim).flatMap(({ owner, field, kind, part }): PlacedPart[] => {
    const entry = owner.entries.get(field);
    const path = `${owner.path}.${field}`;
    return namesOfKind(vocabulary, build.root.scope, kind).flatMap((name): PlacedPart[] => {
      if (name === part.path || name === owner.path || tried >= mostTried) return [];
      if (workshop.patience.isUp()) return [];
      tried++;
      const effect = effectOf(source, claim, { lines: [`${path}: ${name}`], level });
      if (effect === undefined) return [];
      const change = entry === undefined || entry.shared || entry.inherited ? undefined : entry;
      return [
        {
          path,
          part: name,
          was: entry === undefined ? part.path : textAt(entry.anchor),
          holds: level,
          ...effect,
          ...(change === undefined ? {} : { anchor: change.anchor }),
        },
      ];
    });
  });
  return found.sort((one, other) => one.breaks.length - other.breaks.length).slice(0, mostTold);
}

/** The same as edits: another name where the part that is fitted is named. */
export function partFixes(source: CheckSource, claim: ModelClaim): Fix[] {
  return otherParts(source, claim).flatMap(({ path, part, was, breaks, anchor }) =>
    anchor === undefined
      ? []
      : [
          {
            title: fitAnother(
              { path, part, was },
              breaks.map((broken) => broken.title),
            ),
            edits: [{ anchor, text: part }],
          },
        ],
  );
}

// ───────────────────────────── helpers ─────────────────────────────

interface Fitted {
  readonly owner: Thing;
  readonly field: string;
  readonly kind: string;
  readonly part: Thing;
}

/** Where parts are named whose bought figures bear on the check. */
function fittedIn({ reading }: CheckSource, claim: ModelClaim): Fitted[] {
  const solved = new SolvedCell(reading, reading.cells.wholeFor(claim.figures));
  const margin = marginOf(solved.local(claim));
  const slopes = margin === undefined ? new Map() : sensitivities(solved.solution, margin);
  const bought = new Set<Thing>();
  for (const [variable, slope] of slopes) {
    const about = solved.figureAt(variable);
    if (slope === 0 || about === undefined) continue;
    if (about.variable.role === "bought" || about.part !== undefined) bought.add(about.thing);
  }
  if (bought.size === 0) return [];
  const binder = new Binder(reading, undefined);
  const fitted: Fitted[] = [];
  for (const owner of reading.everything()) {
    for (const name of owner.entries.keys()) {
      const field = owner.field(name);
      if (field?.type.form !== "reference") continue;
      const part = binder.linked(owner, field);
      if (part !== undefined && bought.has(part))
        fitted.push({ owner, field: name, kind: field.type.kind, part });
    }
  }
  return fitted;
}
