/**
 * One group of a build, elaborated and solved: its values, checks, asks and findings.
 *
 * Must not know: files as a whole, other groups, how anything is shown.
 */
import { type Anchor, textAt } from "../model/anchor";
import type { Write } from "../model/build-things";
import type { CheckDefinition, FieldDefinition, Vocabulary } from "../model/definition";
import { elaborate } from "../model/elaborate";
import { type Finding, Findings, type Fix } from "../model/finding";
import type { FormPool } from "../model/kind-environment";
import { readFigure } from "../model/literal";
import type { Model, ModelClaim, ModelEquation, ModelVariable } from "../model/model";
import { nominalAnchor, type Thing } from "../model/thing";
import { fitFor, missingFor, solve, solveOverlay, spreadOf, verdictOf } from "../solve";
import type { Failure, Fit, GivenNumber, Plan, Solution, Spread, Verdict } from "../solve/system";
import { type DisplayStyle, displayOf, readUnit } from "../units";
import type {
  AskedValue,
  CheckResult,
  Levels,
  MissingValue,
  Need,
  Reason,
  Standing,
  Value,
} from "./analysis";
import {
  checkFinding,
  conflictFinding,
  currencyFinding,
  type FindingContext,
  failureFinding,
  missingMessage,
} from "./findings";
import type { Group, Placed } from "./groups";
import { allotmentsOf, piecesInWords, stackFindings } from "./stacks";
import { Writer } from "./wording";

/** Which members are laid over the spec. */
export type Overlay =
  | { readonly is: "spec" }
  | { readonly is: "option"; readonly name: string }
  | { readonly is: "as built" };

export interface GroupInput {
  readonly group: Group;
  readonly overlay: Overlay;
  readonly vocabulary: Vocabulary;
  readonly pool: FormPool;
  readonly style: DisplayStyle;
  readonly levels: Levels;
  /** The plan of the same group before an edit; reused where its shape is the same. */
  readonly plan?: Plan;
}

const mostKeptVariables = 5_000;

interface Kept {
  deref(): GroupResult | undefined;
}

/** What all groups of one reading have in common. */
export type GroupContext = Omit<GroupInput, "group" | "plan">;

export class GroupResult {
  readonly model: Model;
  readonly solution: Solution;
  private readonly figures: (Value | undefined)[] = [];
  private readonly spreads = new Map<number, Spread | undefined>();
  private readonly variants = new Map<string, Kept>();
  private readonly writer: Writer;

  constructor(readonly input: GroupInput) {
    const { group, overlay, pool, vocabulary, plan } = input;
    this.writer = new Writer(input.style);
    this.model = elaborate({
      declarations: group.members.flatMap(({ declaration }) =>
        declaration === undefined ? [] : [declaration],
      ),
      statements: group.members.filter(({ item }) =>
        ["check", "relation", "curve"].includes(item.node.type),
      ),
      writes: writesOf(group.members, overlay),
      heldAgainst: overlay.is === "as built" ? [] : recordWrites(group.members),
      vocabulary,
      pool,
    });
    this.solution = solve(this.model, plan);
  }

  /** All values in the order of things and their fields. */
  get values(): readonly Value[] {
    return this.lazily("values", () => this.inThingOrder());
  }

  get asked(): readonly AskedValue[] {
    return this.lazily("asked", () =>
      this.model.asks.map((ask) => this.askedValue(ask.variable, ask.entry.anchor)),
    );
  }

  get checks(): readonly CheckResult[] {
    return this.lazily("checks", () => this.model.claims.map((claim) => this.check(claim)));
  }

  get missing(): readonly MissingValue[] {
    return this.lazily("missing", () =>
      this.asked.flatMap((asked) =>
        asked.value.standing === "missing" ? [this.missingValue(asked)] : [],
      ),
    );
  }

  get findings(): readonly Finding[] {
    return this.lazily("findings", () => this.collectFindings());
  }

  /** The same group with something laid over it; itself where none of its members speak of that. */
  under(overlay: Overlay): GroupResult {
    if (!this.isTouchedBy(overlay)) return this;
    const key = overlay.is === "option" ? `option ${overlay.name}` : overlay.is;
    const kept = this.variants.get(key)?.deref();
    if (kept !== undefined) return kept;
    const made = new GroupResult({ ...this.input, overlay, plan: this.solution.plan });
    this.variants.set(key, this.keeping(made));
    return made;
  }

  /** A small variant is kept; of a large group each may be made again, so that many do not pile up. */
  private keeping(variant: GroupResult): Kept {
    const large = variant.model.variables.length > mostKeptVariables;
    return large ? new WeakRef(variant) : { deref: () => variant };
  }

  /** Names of the options written in it. */
  get optionNames(): ReadonlySet<string> {
    return this.lazily("option names", () => {
      const names = this.input.group.members.flatMap(({ item: { node } }) =>
        node.type === "option" ? [node.name.text] : [],
      );
      return new Set(names);
    });
  }

  private isTouchedBy(overlay: Overlay): boolean {
    switch (overlay.is) {
      case "spec":
        return false;
      case "option":
        return this.optionNames.has(overlay.name);
      case "as built":
        return this.input.group.members.some(({ item }) => item.node.type === "record");
    }
  }

  /** What goes wrong under an option and not without it. */
  findingsUnder(option: string): readonly Finding[] {
    return this.lazily(`findings under ${option}`, () => {
      const variant = this.under({ is: "option", name: option });
      if (variant === this) return [];
      const known = new Set(this.findings.map(({ code, message }) => `${code} ${message}`));
      return variant.findings.filter(({ code, message }) => !known.has(`${code} ${message}`));
    });
  }

  valueAt(path: string): Value | undefined {
    const index = this.model.variableAt(path);
    return index === undefined ? this.words().get(path) : this.figure(index);
  }

  private readonly once = new Map<string, unknown>();

  private lazily<T>(name: string, make: () => T): T {
    if (!this.once.has(name)) this.once.set(name, make());
    return this.once.get(name) as T;
  }

  // ── values ──

  /** The value of a variable by its index in the model. */
  figure(index: number): Value {
    const before = this.figures[index];
    if (before !== undefined) return before;
    const value = new FigureValue(this, index);
    this.figures[index] = value;
    return value;
  }

  standingOf(index: number): Standing {
    const determination = this.solution.determinations[index];
    switch (determination?.how) {
      case "given":
        return this.model.variables[index]?.entry?.layer === "record" ? "measured" : "given";
      case "solved":
      case "assumed":
        return determination.how;
      default:
        return "missing";
    }
  }

  askAnchor(index: number): Anchor | undefined {
    return this.model.asks.find((ask) => ask.variable === index)?.entry.anchor;
  }

  reasonOf(index: number): Reason | undefined {
    const determination = this.solution.determinations[index];
    if (determination?.how !== "solved" && determination?.how !== "assumed") return undefined;
    const equation = this.model.equations[determination.equation];
    if (equation === undefined) return undefined;
    return {
      ...this.describe(equation),
      inputs: equation.variables
        .filter((other) => other !== index)
        .map((other) => this.model.variables[other]?.name ?? ""),
      together: determination.block.map((other) => this.titleOf(other)),
    };
  }

  private describe({ origin }: ModelEquation): Omit<Reason, "inputs" | "together"> {
    switch (origin.is) {
      case "relation": {
        const { relation } = origin;
        const { left, right } = relation.node;
        return {
          title: relation.title,
          kind: relation.assumed ? "assumed relation" : "relation",
          formula: textAt({
            ...relation.anchor,
            span: { start: left.span.start, end: right.span.end },
          }).replaceAll(/\s+/g, " "),
          remarks: relation.remarks,
          anchor: relation.anchor,
        };
      }
      case "formula":
        return {
          title: "as written in the build",
          kind: "formula",
          formula: `${origin.entry.field.text} = ${textAt(origin.entry.anchor)}`,
          remarks: {},
          anchor: origin.entry.anchor,
        };
      case "default":
        return {
          title: `default of ${origin.field.name}`,
          kind: "default",
          formula: `${origin.field.name} = ${defaultText(origin.field)}`,
          remarks: { source: origin.field.source },
          anchor: origin.field.anchor,
        };
    }
  }

  private titleOf(equation: number): string {
    const found = this.model.equations[equation];
    return found === undefined ? "" : this.describe(found).title;
  }

  restsOn(index: number): string[] {
    const determination = this.solution.determinations[index];
    if (determination?.how !== "solved" && determination?.how !== "assumed") return [];
    return determination.restsOn.map((equation) => {
      const { origin } = this.model.equations[equation] as ModelEquation;
      if (origin.is === "relation") return origin.relation.title;
      const last = this.model.equations[equation]?.variables.at(-1) ?? -1;
      const value = last < 0 ? undefined : this.figure(last);
      return value === undefined
        ? origin.thing.path
        : `${value.path} is ${this.writer.value(value.si, value.measure)}`;
    });
  }

  /** `0.020 in + 0.015 in` for a figure that is put together from a kit. */
  piecesOf(index: number): string | undefined {
    if (this.model.stacks.length === 0) return undefined;
    const allotment = this.lazily("allotments", () => allotmentsOf(this)).get(index);
    return allotment === undefined ? undefined : piecesInWords(allotment, this.writer);
  }

  spreadOf(index: number): Spread | undefined {
    if (!this.spreads.has(index)) {
      const known = Number.isFinite(this.solution.values[index]);
      this.spreads.set(
        index,
        known
          ? spreadOf(this.solution, { expression: { op: "slot", index: 0 }, variables: [index] })
          : undefined,
      );
    }
    return this.spreads.get(index);
  }

  private inThingOrder(): Value[] {
    const thingOrder = new Map<Thing, number>(
      this.model.things.map((thing, index) => [thing, index]),
    );
    const fieldOrders = new Map<Thing["kind"], ReadonlyMap<string, number>>();
    const fieldOrder = ({ thing, path }: Value): number => {
      const order =
        fieldOrders.get(thing.kind) ??
        new Map([...thing.kind.fields.keys()].map((name, index) => [name, index]));
      fieldOrders.set(thing.kind, order);
      return order.get(path.slice(thing.path.length + 1).split(/[.[]/)[0] ?? "") ?? order.size;
    };
    const figures = this.model.variables.map((_, index) => this.figure(index));
    return [...figures, ...this.words().values()]
      .map((value) => ({
        value,
        thing: thingOrder.get(value.thing) ?? thingOrder.size,
        field: fieldOrder(value),
      }))
      .sort(
        (one, other) =>
          one.thing - other.thing ||
          one.field - other.field ||
          (one.value.path < other.value.path ? -1 : 1),
      )
      .map(({ value }) => value);
  }

  private words(): ReadonlyMap<string, Value> {
    return this.lazily("words", () => {
      const words = new Map<string, Value>();
      for (const [path, word] of this.model.words) {
        const measured = word.entry?.layer === "record";
        words.set(path, {
          path,
          thing: word.thing,
          field: word.field,
          word: word.value,
          standing: word.assumed ? "assumed" : measured ? "measured" : "given",
          anchor: word.entry?.anchor,
          restsOn: [],
          spread: () => undefined,
          contributors: () => [],
        });
      }
      return words;
    });
  }

  // ── asks and checks ──

  private askedValue(index: number, anchor: Anchor): AskedValue {
    const value = this.figure(index);
    return { value, anchor, needs: value.standing === "missing" ? this.needsOf(index) : [] };
  }

  private needsOf(index: number): (readonly Need[])[] {
    if (this.solution.determinations[index]?.how !== "open") return [];
    const seen = new Set<string>();
    const sets: Need[][] = [];
    for (const set of missingFor(this.solution, index)) {
      const needs = new Map<string, Need>();
      for (const other of set) {
        const variable = this.model.variables[other];
        if (variable === undefined) continue;
        // A part of a designation is settled by writing the designation.
        const path =
          variable.part === undefined
            ? variable.name
            : `${variable.thing.path}.${variable.field.name}`;
        needs.set(path, { path, advice: variable.field.needs });
      }
      const key = [...needs.keys()].sort().join(" ");
      if (needs.size === 0 || seen.has(key)) continue;
      seen.add(key);
      sets.push([...needs.values()]);
    }
    return sets;
  }

  private missingValue({ value, anchor, needs }: AskedValue): MissingValue {
    const failure = this.failureBehind(value);
    const message =
      failure === undefined
        ? missingMessage(value, needs)
        : `${value.path} cannot be worked out yet: ${failure.message}`;
    return { path: value.path, message, needs, anchor };
  }

  /** Why a value that should have come out did not. */
  private failureBehind({ path }: Value): Finding | undefined {
    const index = this.model.variableAt(path);
    const determination = index === undefined ? undefined : this.solution.determinations[index];
    if (determination?.how !== "failed") return undefined;
    return this.failures[determination.failure];
  }

  /** The written default of a figure, as if it were given. */
  private usualOf(index: number): GivenNumber | undefined {
    const variable = this.model.variables[index];
    const node = (variable?.part ?? variable?.field)?.default;
    if (variable === undefined || node === undefined) return undefined;
    const reading = readFigure(node, variable.measure, () => "");
    if (reading.is !== "figure") return undefined;
    const { value, low, high } = reading.figure;
    return { value, low, high, rounding: 0, fixed: true };
  }

  private get failures(): readonly (Finding | undefined)[] {
    return this.lazily("failures", () => {
      const context = this.findingContext();
      return this.solution.failures.map(
        (failure, index) => this.againstDefault(failure) ?? failureFinding(failure, index, context),
      );
    });
  }

  /**
   * More is given than fits, and what is over would land in a figure nobody wrote, outside of what
   * it can be: seen with assumed figures as they usually are, the givens disagree, and say so better.
   */
  private againstDefault({ why, variables }: Failure): Finding | undefined {
    const [index = -1] = variables;
    const usual = this.usualOf(index);
    if (why !== "no-root" || variables.length !== 1 || usual === undefined) return undefined;
    const assumed = new Map([[index, usual]]);
    for (const [other, { how }] of this.solution.determinations.entries()) {
      const figure = how === "assumed" ? this.usualOf(other) : undefined;
      if (figure !== undefined) assumed.set(other, figure);
    }
    const solution = solveOverlay(this.solution, assumed);
    const conflict = solution.conflicts.find(({ givens }) =>
      givens.some((each) => each.variable === index),
    );
    return conflict && conflictFinding(conflict, { ...this.findingContext(), solution });
  }

  private check(claim: ModelClaim): CheckResult {
    const { check, thing } = claim;
    const { model, solution } = this;
    let judged: Verdict | undefined;
    return {
      title: check.title,
      code:
        check.remarks.code ?? (claim.own ? "check/own" : `check/${thing?.kind.name ?? "build"}`),
      thing,
      own: claim.own,
      // Of most checks of an option or as built nobody asks.
      get verdict() {
        judged ??= claim.applies ? verdictOf(solution, claim) : notJudged;
        return judged;
      },
      get condition() {
        const text = textAt({ ...check.anchor, span: check.node.condition.span });
        return text.replaceAll(/\s+/g, " ");
      },
      remarks: check.remarks,
      anchor: check.anchor,
      place: claim.own ? headOfCheck(check) : (anchorOfThing(thing) ?? check.anchor),
      get inputs() {
        return claim.variables.map((index) => model.variables[index]?.name ?? "");
      },
      fits: () => this.fits(claim),
    };
  }

  private fits(claim: ModelClaim): (Fit & { path: string; shown: string })[] {
    if (!claim.applies) return [];
    return fitFor(this.solution, claim, (index) => this.incrementOf(index)).map((fit) => {
      const variable = this.model.variables[fit.variable];
      const shown = variable === undefined ? "" : this.writer.like(variable, fit.value);
      return { ...fit, path: variable?.name ?? "", shown };
    });
  }

  private fitFixes(check: CheckResult): Fix[] {
    return check.fits().flatMap(({ variable, path, shown }) => {
      const entry = this.model.variables[variable]?.entry;
      const anchor = entry === undefined ? undefined : nominalAnchor(entry);
      if (anchor === undefined) return [];
      const now = this.valueAt(path);
      const was = now?.written ?? this.writer.value(now?.si, now?.measure);
      const title = `make it fit: set ${path} to ${shown} (now ${was})`;
      return [{ title, edits: [{ anchor, text: shown }] }];
    });
  }

  /** The step a builder can work to, in the unit they wrote; none for what is not theirs to change. */
  private incrementOf(index: number): number | undefined {
    const variable = this.model.variables[index];
    const { figure, entry, part, measure } = variable ?? {};
    if (figure === undefined || measure === undefined) return undefined;
    if (entry === undefined || part !== undefined) return undefined;
    if (measure.whole) return 1;
    const display = displayOf(measure, this.input.style);
    const step = display.increment?.step;
    if (step !== undefined && figure.unit === display.unit) {
      return step * (readUnit(display.unit, measure)?.factor ?? 1);
    }
    // Another unit than the build is shown in: as finely as it was written.
    if (figure.rounding > 0) return 2 * figure.rounding;
    const size = Math.abs(figure.value);
    return size === 0 ? measure.scale : 10 ** (Math.floor(Math.log10(size)) - 2);
  }

  // ── findings ──

  private findingContext(): FindingContext {
    const { members } = this.input.group;
    const items = members.map(({ item }) => item);
    const rootUri = members[0]?.scope.file.uri;
    return { model: this.model, solution: this.solution, writer: this.writer, items, rootUri };
  }

  private collectFindings(): Finding[] {
    const findings = new Findings();
    for (const finding of this.model.findings) findings.add(finding);
    const context = this.findingContext();
    for (const conflict of this.solution.conflicts) {
      const finding = conflictFinding(conflict, context);
      if (finding !== undefined) findings.add(finding);
    }
    const currencies = currencyFinding(this.model.variables);
    if (currencies !== undefined) findings.add(currencies);
    const failures = this.failures.flatMap((finding) => finding ?? []);
    for (const finding of failures) findings.add(finding);
    for (const [index, check] of this.checks.entries()) {
      const finding = checkFinding(
        check,
        this.model.claims[index] as ModelClaim,
        this.input.levels,
        context,
      );
      if (finding === undefined) continue;
      findings.add({ ...finding, furtherFixes: () => this.fitFixes(check) });
    }
    if (this.model.stacks.length > 0) {
      for (const finding of stackFindings(this, this.writer)) findings.add(finding);
    }
    for (const missing of this.missing) {
      // What failed says so at this very place.
      if (failures.some(({ anchor }) => anchor === missing.anchor)) continue;
      findings.add({
        code: "missing/value",
        severity: "warning",
        message: missing.message,
        anchor: missing.anchor,
      });
    }
    return findings.list;
  }
}

/** One figure, put together as far as it is read. */
class FigureValue implements Value {
  private reasonMade: { readonly reason: Reason | undefined } | undefined;

  constructor(
    private readonly group: GroupResult,
    private readonly index: number,
  ) {}

  private get variable(): ModelVariable {
    return this.group.model.variables[this.index] as ModelVariable;
  }

  get path(): string {
    return this.variable.name;
  }

  get thing(): Thing {
    return this.variable.thing;
  }

  get field(): FieldDefinition {
    return this.variable.part ?? this.variable.field;
  }

  get measure() {
    return this.variable.measure;
  }

  get si(): number | undefined {
    const si = this.group.solution.values[this.index];
    return si !== undefined && Number.isFinite(si) ? si : undefined;
  }

  get standing(): Standing {
    return this.group.standingOf(this.index);
  }

  get anchor(): Anchor | undefined {
    return this.variable.entry?.anchor ?? this.group.askAnchor(this.index);
  }

  get currency(): string | undefined {
    return this.variable.figure?.currency;
  }

  get written(): string | undefined {
    const { entry, figure, part } = this.variable;
    if (entry === undefined || figure === undefined || part !== undefined) return undefined;
    const anchor = nominalAnchor(entry);
    return anchor === undefined ? undefined : textAt(anchor).replaceAll(/\s+/g, " ");
  }

  get pieces(): string | undefined {
    return this.group.piecesOf(this.index);
  }

  get reason(): Reason | undefined {
    this.reasonMade ??= { reason: this.group.reasonOf(this.index) };
    return this.reasonMade.reason;
  }

  get restsOn(): readonly string[] {
    return this.group.restsOn(this.index);
  }

  spread(): Spread | undefined {
    return this.group.spreadOf(this.index);
  }

  contributors() {
    const { model } = this.group;
    return (this.spread()?.contributors ?? []).map(({ variable, below, above, share }) => ({
      path: model.variables[variable]?.name ?? "",
      below,
      above,
      share,
    }));
  }
}

/** Where the builder opened the thing, or the nearest owner of it that was opened. */
export function anchorOfThing(thing: Thing | undefined): Anchor | undefined {
  for (let at = thing; at !== undefined; at = at.owner)
    if (at.anchor !== undefined) return at.anchor;
  return undefined;
}

// ───────────────────────────── helpers ─────────────────────────────

const notJudged: Verdict = { nominal: "unknown", rss: "unknown", worst: "unknown", open: [] };

/** A check without the clauses that follow it. */
function headOfCheck({ anchor, node }: CheckDefinition): Anchor {
  return { ...anchor, span: { start: anchor.span.start, end: node.condition.span.end } };
}

function writesOf(members: readonly Placed[], overlay: Overlay): Write[] {
  const writes: Write[] = [];
  for (const { item, scope } of members) {
    if (item.node.type === "given") writes.push({ node: item.node, item, scope, layer: "spec" });
  }
  for (const { item, scope } of members) {
    const { node } = item;
    if (node.type === "option" && overlay.is === "option" && node.name.text === overlay.name) {
      for (const member of node.members) {
        if (member.type === "given" || member.type === "part")
          writes.push({ node: member, item, scope, layer: "option" });
      }
    }
  }
  return overlay.is === "as built" ? [...writes, ...recordWrites(members)] : writes;
}

/** By their days, whatever the order they stand in; what has no day comes first. */
function recordWrites(members: readonly Placed[]): Write[] {
  const writes = members.flatMap(({ item, scope }) => {
    const { node } = item;
    if (node.type !== "record") return [];
    return node.members.flatMap((member): Write[] =>
      member.type === "given" || member.type === "part"
        ? [{ node: member, item, scope, layer: "record", date: node.date?.text }]
        : [],
    );
  });
  const day = ({ date = "" }: Write): string => date;
  return writes.sort((one, other) => (day(one) < day(other) ? -1 : day(one) > day(other) ? 1 : 0));
}

function defaultText(field: FieldDefinition): string {
  const node = field.default;
  return node === undefined ? "" : textAt({ ...field.anchor, span: node.span });
}
