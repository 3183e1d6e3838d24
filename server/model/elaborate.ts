/**
 * Turns one thing with its parts, or one check, relation or curve, into what it adds to a build: an
 * equation for every relation, formula and default that applies, a claim for every check, over the
 * figures they name.
 *
 *     elaborateThing(tree, { names, pool })   →   equations, claims, asks, findings
 *
 * Must not know: how systems are solved, how files are read, the trade.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Item } from "../../grammar/syntax";
import { Findings } from "../findings/collected";
import { compact } from "../keep/compact";
import { goOn } from "../keep/patience";
import type { Measure } from "../units";
import { Binder, type Things } from "./binder";
import { mostTermsOfAll, overfullFinding, Terms } from "./budget";
import { Claims } from "./claims";
import { Equations } from "./equations";
import { Figures } from "./figures";
import { FormulaNames } from "./formula-names";
import type { FormPool } from "./kind-environment";
import { problemsOfOff, readFigure } from "./literal";
import type { Ask, Row } from "./model";
import type { Entry, Thing } from "./thing";
import type { Tree } from "./trees";
import { Words } from "./words";

/** What a row is made in. */
export interface Surroundings {
  readonly names: Things;
  /** Shared formulas; lives as long as the vocabulary. */
  readonly pool: FormPool;
  /** How many terms of sums there are left for it; see `Terms`. */
  readonly termsLeft?: number;
}

/** What a thing at the top of a file adds. */
export function elaborateThing(tree: Tree, around: Surroundings): Row {
  const elaboration = new Elaboration(tree.thing, around);
  elaboration.thing(tree);
  return elaboration.row();
}

/** What a check, relation or curve at the top of a file adds. */
export function elaborateStatement(
  node: syntax.Check | syntax.Relation | syntax.Curve,
  anchor: Anchor,
  around: Surroundings,
): Row {
  const elaboration = new Elaboration(undefined, around);
  elaboration.statement(node, anchor);
  return elaboration.row();
}

/** What the checks, relations and curves of an option add where it is laid over the build. */
export function elaborateOption(
  node: syntax.Option,
  anchor: Anchor,
  around: Surroundings,
): Row | undefined {
  const statements = node.members.flatMap((member) =>
    member.type === "check" || member.type === "relation" || member.type === "curve"
      ? [member]
      : [],
  );
  if (statements.length === 0) return undefined;
  const elaboration = new Elaboration(undefined, around);
  for (const statement of statements) {
    elaboration.statement(statement, { ...anchor, span: statement.span });
  }
  return elaboration.row();
}

/** A thing, its parts, and what stands in for a reference and is written into. */
export function everythingIn(thing: Thing, found: Thing[] = []): Thing[] {
  found.push(thing);
  for (const part of thing.parts.values()) everythingIn(part, found);
  for (const standIn of thing.standIns.values()) if (standIn.spoken) everythingIn(standIn, found);
  for (const child of thing.children.values()) everythingIn(child, found);
  for (const items of thing.lists.values()) for (const item of items) everythingIn(item, found);
  return found;
}

class Elaboration {
  private readonly findings = new Findings();
  private readonly binder: Binder;
  private readonly words: Words;
  private readonly figures: Figures;
  private readonly names: FormulaNames;
  private readonly equations: Equations;
  private readonly claims: Claims;
  private readonly asks: Ask[] = [];
  private readonly terms: Terms;
  /** Texts of what it is like: what is wrong with them is told there. */
  private borrowed: Set<Item> | undefined;

  constructor(
    private readonly own: Thing | undefined,
    { names, pool, termsLeft = mostTermsOfAll }: Surroundings,
  ) {
    const { findings } = this;
    const binder = new Binder(names, own, (finding) => findings.add(finding));
    this.binder = binder;
    this.words = new Words(binder, findings);
    this.figures = new Figures(binder, this.words, pool, findings, (variable, entry) =>
      this.equations.workOut(variable, entry),
    );
    this.terms = new Terms(termsLeft, (finding) => findings.add(finding));
    this.names = new FormulaNames(binder, this.words, this.figures, findings, this.terms);
    this.equations = new Equations(this.figures, this.names, names.vocabulary, pool, findings);
    this.claims = new Claims(this.figures, this.names, names.vocabulary, pool, findings);
  }

  row(): Row {
    const overfull = this.own && overfullFinding(this.own);
    if (overfull !== undefined) this.findings.add(overfull);
    return {
      thing: this.own,
      figures: this.figures.met,
      equations: compact(this.equations.list),
      claims: compact(this.claims.list),
      curves: compact(this.claims.curves),
      asks: compact(this.asks),
      stacks: compact(this.equations.stacks),
      words: this.words.read,
      findings: this.findings.without(this.borrowed),
      questions: this.binder.questions.done(),
      terms: { limit: this.terms.limit, spent: this.terms.spent },
    };
  }

  thing({ thing, findings, others }: Tree): void {
    for (const other of others.values())
      if (other?.anchor !== undefined) this.borrow(other.anchor.item);
    for (const finding of findings) this.findings.add(finding);
    const all = everythingIn(thing);
    for (const each of all) {
      for (const key of each.entries.keys()) {
        goOn(200);
        this.touch(each, key);
      }
    }
    for (const each of all) for (const [key, entry] of each.asked) this.ask(each, key, entry);
    for (const each of all) this.expand(each);
  }

  private borrow(item: Item): void {
    this.borrowed ??= new Set();
    this.borrowed.add(item);
  }

  private touch(thing: Thing, key: string): void {
    const [fieldName = "", partName] = key.split(".");
    const field = thing.field(fieldName);
    if (field === undefined) return;
    const { type } = field;
    switch (type.form) {
      case "measure":
        this.figures.figure({ thing, field });
        break;
      case "designation":
        if (partName !== undefined) {
          const part = type.designation.parts.get(partName);
          if (part?.type.form === "measure") this.figures.figure({ thing, field, part });
        } else {
          this.words.word(thing, field);
          for (const [name, value] of this.words.partsOf(thing, field) ?? []) {
            const part = type.designation.parts.get(name);
            if (part !== undefined && typeof value === "number")
              this.figures.figure({ thing, field, part });
          }
        }
        break;
      case "reference":
      case "part":
        this.binder.linked(thing, field);
        break;
      case "list":
        this.binder.listed(thing, field);
        this.figures.listItems(thing, field);
        break;
      default:
        this.words.word(thing, field);
    }
  }

  /** Relations, defaults of headline figures, and checks of one thing. */
  private expand(thing: Thing): void {
    const { kind } = thing;
    this.equations.kindRelations(thing);
    this.claims.kindChecks(thing);
    for (const curve of kind.curves)
      this.claims.addCurve({ thing, uri: thing.uri }, curve, undefined);
    for (const { node, anchor } of thing.relations)
      this.equations.ownRelation({ thing, uri: anchor.uri }, node, anchor);
    for (const { node, anchor } of thing.checks)
      this.claims.ownCheck({ thing, uri: anchor.uri }, node, anchor);
    for (const { node, anchor } of thing.curves)
      this.claims.ownCurve({ thing, uri: anchor.uri }, node, anchor);
    for (const field of kind.fields.values()) {
      if (field.shown && field.type.form === "measure") this.figures.figure({ thing, field });
    }
  }

  statement(node: syntax.Check | syntax.Relation | syntax.Curve, anchor: Anchor): void {
    const { uri } = anchor;
    if (node.type === "check") this.claims.ownCheck({ uri }, node, anchor);
    else if (node.type === "relation") this.equations.ownRelation({ uri }, node, anchor);
    else this.claims.ownCurve({ uri }, node, anchor);
  }

  /** Which answer is meant is said by a figure; what is none is told. */
  private lookAtNear({ anchor }: Entry, near: NonNullable<Entry["near"]>, measure: Measure): void {
    const reading = readFigure(near, measure);
    if (reading.is === "problem") this.findings.raise([reading.problem], anchor);
    if (reading.is !== "formula") return;
    this.findings.add({
      is: "value/not-a-number near",
      anchor: { ...anchor, span: near.span },
    });
  }

  private ask(thing: Thing, key: string, entry: Entry): void {
    const [fieldName = "", partName] = key.split(".");
    const field = thing.field(fieldName);
    if (field === undefined) return;
    if (field.type.form === "designation" && partName !== undefined) {
      const part = field.type.designation.parts.get(partName);
      if (part?.type.form === "measure")
        this.asks.push({
          thing,
          field,
          entry,
          figure: this.figures.figure({ thing, field, part }),
        });
      return;
    }
    if (field.type.form === "measure") {
      this.asks.push({ thing, field, entry, figure: this.figures.figure({ thing, field }) });
      if (entry.near !== undefined) this.lookAtNear(entry, entry.near, field.type.measure);
      if (entry.tolerance !== undefined)
        this.findings.raise(problemsOfOff(entry.tolerance, field.type.measure), entry.anchor);
      return;
    }
    // An option may free a reference, so that any thing of the kind can stand there.
    if (entry.layer !== "spec") return;
    const { type } = field;
    this.findings.add({
      is: "missing/not-a-figure",
      field: field.name,
      choices: type.form === "choice" ? type.choices : undefined,
      kind: type.form === "reference" || type.form === "part" ? type.kind : undefined,
      anchor: entry.anchor,
    });
  }
}
