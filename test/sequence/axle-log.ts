/**
 * The work on one axle with its log, and what is said of such a log: for tests that plant mistakes
 * in it and for those that do work again. The axle, its people and its figures are invented.
 */

import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { orderFindings, photoFindings } from "../../server/sequence";
import { A, B, base, F, plan, rec, recordOf, redo } from "./axle-entries";
import { library } from "./helper";

export { A, B, base, F, plan, rec, recordOf, redo };

export type Log = Map<string, string>;

export function log(edit: (entries: Log) => void): string {
  const entries: Log = new Map(base);
  edit(entries);
  return [...entries.values()].join("");
}
export function put(entries: Log, more: readonly string[]): void {
  for (const [at, text] of more.entries()) entries.set(`later ${at}`, text);
}
export const set = (name: string, text: string): string =>
  log((entries) => entries.set(name, text));
export const del = (...names: string[]): string =>
  log((entries) => {
    for (const name of names) entries.delete(name);
  });
export const add = (...more: string[]): string =>
  log((entries) => {
    for (const [at, text] of more.entries()) entries.set(`more ${at}`, text);
  });
export const bad = (k: string, v: string, more: string[]) =>
  log((m) => {
    m.set(k, v);
    put(m, more);
  });

/** All that is said of the log but notes, as "code: message"; of the plan alone nothing is said. */
export function objections(text: string): string[] {
  return objectionsOf(plan + text);
}

export function objectionsOf(build: string, notes = false): string[] {
  const uri = "file:///shop/build.trammel";
  const host = memoryHost(new Map([[uri, build]]));
  const further = [orderFindings, (analysis: Analysis) => photoFindings(analysis, host)];
  const analysis = new Analyzer(host, library(), further).analyze(uri, { today: "2026-11-27" });
  return (analysis?.findings ?? [])
    .filter(({ severity, code }) => (notes || severity !== "note") && code !== "joint/under-tight")
    .map(({ code, message }) => `${code}: ${message}`);
}
