/**
 * What the records mean for the build: wishes that come out otherwise than the spec has them, and
 * checks that held there and do not as built.
 *
 *     consequencesOf(analysis)   // { wishes: [{ path, si, over }], fails: [], unsure: [] }
 *
 * Must not know: how any of it is worded.
 */
import { once } from "../keep/once";
import type { Analysis, Besides, CheckResult, Value } from "./analysis";

export interface Consequences {
  /** As built, the largest miss first, in terms of what was still accepted or drawn. */
  readonly wishes: readonly { readonly value: Value; readonly si: number; readonly miss: number }[];
  /** Checks that hold in the spec and fail as built. */
  readonly fails: readonly CheckResult[];
  /** Checks that hold at worst in the spec and only as measured as built. */
  readonly unsure: readonly CheckResult[];
}

const ofSpecs = new WeakMap<Analysis["core"], Consequences>();

/** Of all records of a spec together. */
export function consequencesOf(spec: Analysis): Consequences {
  let found = ofSpecs.get(spec.core);
  if (found === undefined) {
    found = make(spec, spec.asBuilt());
    ofSpecs.set(spec.core, found);
  }
  return found;
}

// ───────────────────────────── helpers ─────────────────────────────

function make(spec: Analysis, built: Analysis): Consequences {
  // What no record touches is the same in both.
  const parts = once(() => built.besides(spec));
  const wishes = once(() =>
    parts()
      .flatMap((part) => keptWishes(part, () => wishesIn(part, spec)))
      .sort((one, other) => Math.abs(other.miss) - Math.abs(one.miss)),
  );
  const fails = once(() => parts().flatMap((part) => keptFails(part, () => failsIn(part))));
  const unsure = once(() => parts().flatMap((part) => keptUnsure(part, () => unsureIn(part))));
  return {
    get wishes() {
      return wishes();
    },
    get fails() {
      return fails();
    },
    get unsure() {
      return unsure();
    },
  };
}

/** What a part of the build comes to is kept as long as both readings say the same of it. */
function keeper<T>(): (part: Besides, make: () => T) => T {
  const known = new WeakMap<object, { readonly there: object; readonly found: T }>();
  return ({ here, there }, make) => {
    const before = known.get(here);
    if (before !== undefined && before.there === there) return before.found;
    const found = make();
    if (there !== undefined) known.set(here, { there, found });
    return found;
  };
}

const keptWishes = keeper<Consequences["wishes"]>();
const keptFails = keeper<Consequences["fails"]>();
const keptUnsure = keeper<Consequences["unsure"]>();

function wishesIn({ wanted }: Besides, spec: Analysis): Consequences["wishes"] {
  return wanted.flatMap((value) => {
    const { wanted: wish, measure, path } = value;
    if (wish === undefined || measure === undefined) return [];
    const comes = value.outcome()?.si;
    const drawn = spec.valueAt(path)?.outcome()?.si;
    if (comes === undefined) return [];
    if (drawn !== undefined && Math.abs(drawn - comes) <= 1e-6 * measure.scale) return [];
    return [{ value, si: comes, miss: comes - wish.si }];
  });
}

function failsIn(part: Besides): Consequences["fails"] {
  return part.checks.filter(
    (check) => check.verdict.nominal === "fails" && drawn(check, part)?.nominal === "holds",
  );
}

function unsureIn(part: Besides): Consequences["unsure"] {
  return part.checks.filter((check) => {
    const { verdict } = check;
    if (verdict.nominal !== "holds" || verdict.worst === "holds") return false;
    const before = drawn(check, part);
    return before?.nominal === "holds" && before.worst === "holds";
  });
}

/** How a check stands in the spec. */
function drawn(
  { thing, code, title }: CheckResult,
  { before }: Besides,
): CheckResult["verdict"] | undefined {
  return before.findLast(
    (check) => check.thing?.id === thing?.id && check.code === code && check.title === title,
  )?.verdict;
}
