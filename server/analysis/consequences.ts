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
  // What no record touches is the same object in both.
  const same = new Set<unknown>([...spec.checks, ...spec.wanted]);
  const others = built.checks.filter((check) => !same.has(check));
  const among = new Set(others.map(keyOf));
  const before = new Map(
    spec.checks.flatMap((check) => {
      const key = keyOf(check);
      return among.has(key) ? [[key, check]] : [];
    }),
  );
  const held = lazily(() =>
    others.filter((check) => before.get(keyOf(check))?.verdict.nominal === "holds"),
  );
  const fails = lazily(() => held().filter(({ verdict }) => verdict.nominal === "fails"));
  const unsure = lazily(() =>
    held().filter(
      (check) =>
        check.verdict.nominal === "holds" &&
        check.verdict.worst !== "holds" &&
        before.get(keyOf(check))?.verdict.worst === "holds",
    ),
  );
  return {
    wishes: built.wanted
      .flatMap((value) => {
        if (same.has(value)) return [];
        const { wanted, measure, path } = value;
        if (wanted === undefined || measure === undefined) return [];
        const comes = value.outcome()?.si;
        const was = spec.valueAt(path)?.outcome()?.si;
        if (comes === undefined) return [];
        if (was !== undefined && Math.abs(was - comes) <= 1e-6 * measure.scale) return [];
        return [{ value, si: comes, miss: comes - wanted.si }];
      })
      .sort((one, other) => Math.abs(other.miss) - Math.abs(one.miss)),
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

const keys = new WeakMap<CheckResult, string>();

/** Of a check, whichever reading judges it. */
function keyOf(check: CheckResult): string {
  let key = keys.get(check);
  if (key === undefined) {
    key = `${check.thing?.path ?? ""} ${check.code} ${check.title}`;
    keys.set(check, key);
  }
  return key;
}
