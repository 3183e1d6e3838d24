/**
 * What the records mean for the build: wishes that come out otherwise than the spec has them, and
 * checks that held there and do not as built.
 *
 *     consequencesOf(analysis)   // { wishes: [{ path, si, over }], fails: [], unsure: [] }
 *
 * Must not know: how any of it is worded.
 */
import type { Analysis, CheckResult, Value } from "./analysis";

export interface Consequences {
  /** As built, the largest miss first, in terms of what was still accepted or drawn. */
  readonly wishes: readonly { readonly value: Value; readonly si: number; readonly miss: number }[];
  /** Checks that hold in the spec and fail as built. */
  readonly fails: readonly CheckResult[];
  /** Checks that hold at worst in the spec and only as measured as built. */
  readonly unsure: readonly CheckResult[];
}

const known = new WeakMap<Analysis, Consequences>();

/** Of all records of a spec together. */
export function consequencesOf(spec: Analysis): Consequences {
  let found = known.get(spec);
  if (found === undefined) {
    found = make(spec, spec.asBuilt());
    known.set(spec, found);
  }
  return found;
}

// ───────────────────────────── helpers ─────────────────────────────

function make(spec: Analysis, built: Analysis): Consequences {
  // What no record touches is the same in both.
  const others = built.besides(spec);
  const around = lazily(() => spec.besides(built).checks.filter(({ thing }) => !thing));
  const before = ({ thing, code, title }: CheckResult): CheckResult | undefined =>
    (thing === undefined ? around() : spec.checksOf(thing.id)).findLast(
      (check) => check.code === code && check.title === title,
    );
  const fails = lazily(() =>
    others.checks.filter(
      (check) => check.verdict.nominal === "fails" && before(check)?.verdict.nominal === "holds",
    ),
  );
  const unsure = lazily(() =>
    others.checks.filter((check) => {
      const { verdict } = check;
      if (verdict.nominal !== "holds" || verdict.worst === "holds") return false;
      const was = before(check)?.verdict;
      return was?.nominal === "holds" && was.worst === "holds";
    }),
  );
  const wishes = lazily(() =>
    others.wanted
      .flatMap((value) => {
        const { wanted, measure, path } = value;
        if (wanted === undefined || measure === undefined) return [];
        const comes = value.outcome()?.si;
        const was = spec.valueAt(path)?.outcome()?.si;
        if (comes === undefined) return [];
        if (was !== undefined && Math.abs(was - comes) <= 1e-6 * measure.scale) return [];
        return [{ value, si: comes, miss: comes - wanted.si }];
      })
      .sort((one, other) => Math.abs(other.miss) - Math.abs(one.miss)),
  );
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

/** Worked out when it is first asked for. */
function lazily<T>(make: () => T): () => T {
  let made: { readonly of: T } | undefined;
  return () => {
    made ??= { of: make() };
    return made.of;
  };
}
