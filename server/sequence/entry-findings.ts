/**
 * What is wrong with an entry by itself, whatever came before it: no day or one to come, the same
 * words twice, what was read off and with what.
 *
 * Must not know: steps, the order of work, how anything is worded.
 */
import type { RecordInfo } from "../analysis/analysis";
import type { Found } from "../findings/worded";
import { Lists } from "../keep/lists";
import { slips } from "../model/spelling";
import { clauseOf } from "./entries";
import { jointFindings } from "./joint-findings";
import { measurementFindings } from "./measurement-findings";
import { people } from "./people";
import type { RecordView } from "./record-findings";

const day = 24 * 3600;

export function entryFindings(view: RecordView): Found[] {
  const { progress } = view;
  return [
    ...view.unread,
    ...dateFindings(view),
    ...personFindings(view),
    ...clauseFindings(view),
    ...view.duplicates.map(
      ({ record: { anchor }, of }): Found => ({ is: "record/duplicate", same: of.anchor, anchor }),
    ),
    ...view.plan.joints.flatMap((joint) => jointFindings(progress.joint(joint))),
    ...measurementFindings(view),
  ];
}

/** So long a name is hardly one letter away from another person's. */
const shortestName = 6;

/** A name in one record alone that is a slip away from one that is in several. */
function personFindings({ progress }: RecordView): Found[] {
  // Of each hand two records say as much as all.
  const records = new Map<string, RecordInfo[]>();
  for (const { by, record } of progress.events) {
    if (by === undefined) continue;
    const own = records.get(by);
    if (own === undefined) records.set(by, [record]);
    else if (own.length === 1 && own[0] !== record) own.push(record);
  }
  const byName = new Lists<string, RecordInfo>();
  for (const [by, own] of records)
    for (const name of people(by)) for (const each of own) byName.add(name, each);
  return [...byName].flatMap(([name, [record, ...others]]): Found[] => {
    if (record === undefined || others.length > 0 || name.length < shortestName) return [];
    const near = [...byName].find(([other, all]) => all.length > 1 && slips(name, other) === 1);
    const [elsewhere] = near?.[1] ?? [];
    const here = clauseOf(record.node, "by");
    const there = elsewhere && clauseOf(elsewhere.node, "by");
    if (here === undefined || there === undefined) return [];
    const anchor = { ...record.anchor, span: here.span };
    const as = { name: asWritten(name, here.value), near: asWritten(near?.[0] ?? "", there.value) };
    return [{ is: "record/person", ...as, anchor }];
  });
}

/** One of several in `by "…"`. */
function asWritten(name: string, names: string): string {
  const at = names.toLowerCase().indexOf(name);
  return names.slice(at, at + name.length);
}

/** Of two names, times or tools one would be passed over in silence. */
function clauseFindings({ build }: RecordView): Found[] {
  const findings: Found[] = [];
  for (const { node, anchor } of build.analysis.records) {
    const { clauses } = node;
    const twice = clauses.filter(
      ({ word }, at) => clauses.findIndex((each) => each.word.text === word.text) < at,
    );
    for (const { word, span } of twice) {
      const first = clauses.find((each) => each.word.text === word.text);
      const before = { ...anchor, span: first?.span ?? span };
      const is = "given/twice clause";
      findings.push({ is, word: word.text, before, anchor: { ...anchor, span } });
    }
  }
  return findings;
}

/** Whoever keeps a log on the other side of the world may be a day ahead. */
function dateFindings({ build }: RecordView): Found[] {
  const { records, today } = build.analysis;
  const latest = today === undefined ? Number.NaN : Date.parse(today) + day * 1000;
  const last = Number.isFinite(latest) ? new Date(latest).toISOString().slice(0, 10) : undefined;
  const findings: Found[] = [];
  for (const { date, anchor } of records) {
    if (date === undefined) findings.push({ is: "record/no-date", anchor });
    else if (last !== undefined && today !== undefined && date > last)
      findings.push({ is: "record/future", date, today, anchor });
  }
  return findings;
}
