/**
 * What a record adds to a build: nothing but what is wrong with the names and values in it.
 *
 *     recordRow(writes, names)   →   a row without figures or equations, with its findings
 *
 * A log has thousands of them: a row that finds nothing holds little more than what it asked.
 * Must not know: what is made of a record, the order of work.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type { Found, Problem } from "../findings/worded";
import { Binder, type Things } from "./binder";
import { mostTermsOfAll } from "./budget";
import { readFigure } from "./literal";
import type { Row } from "./model";
import { problemOf } from "./target";
import type { Thing } from "./thing";
import type { Write } from "./trees";
import { eachOfBoth } from "./twins";

/** Says which names and values of a record make no sense. */
export function recordRow(writes: readonly Write[], names: Things): Row {
  const found: Found[] = [];
  const binder = new Binder(names, undefined, (each) => found.push(each));
  for (const write of writes) holdAgainst(binder, undefined, write, found);
  return {
    ...addsNothing,
    findings: found.length === 0 ? nothing : found,
    questions: binder.questions,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

const nothing: readonly never[] = [];

const addsNothing: Omit<Row, "questions"> = {
  thing: undefined,
  figures: new Set(),
  equations: nothing,
  claims: nothing,
  curves: nothing,
  asks: nothing,
  stacks: nothing,
  words: new Map(),
  findings: nothing,
  terms: { limit: mostTermsOfAll, spent: 0 },
};

function holdAgainst(
  binder: Binder,
  inside: Thing | undefined,
  write: Write,
  found: Found[],
): void {
  const { node, uri, item } = write;
  const each = eachOfBoth(node, (names) => binder.resolve(inside, uri, names));
  if (each.length > 0) {
    for (const line of each) holdAgainst(binder, inside, { ...write, node: line }, found);
    return;
  }
  const anchor: Anchor = { uri, item, span: node.span };
  const raise = (problem: Problem): void => {
    found.push({ ...problem, anchor: { ...anchor, span: problem.span } });
  };
  const target = binder.resolve(inside, uri, node.path.names);
  if (target.is === "unknown") {
    raise(problemOf(target));
    return;
  }
  if (node.type === "part") {
    if (target.is !== "thing") return;
    for (const member of node.members) {
      if (member.type === "given" || member.type === "part")
        holdAgainst(binder, target.thing, { ...write, node: member }, found);
    }
    return;
  }
  if (target.is !== "field") return;
  const { type } = target.part ?? target.field;
  if (type.form !== "measure") return;
  const reading = readFigure(node.value, type.measure, (span) => textAt({ ...anchor, span }));
  if (reading.is === "problem") raise(reading.problem);
}
