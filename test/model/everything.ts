/**
 * Reads everything an analysis can be asked, as editor, sheets and commands do, and says what a
 * reader must never meet: a figure that is none, a sentence with a hole in it, a place that is not.
 *
 *     expect(flawsOf(analyzed(text))).toEqual([])
 */
import type { Analysis } from "../../server/analysis/analysis";
import type { Finding } from "../../server/findings/finding";

export function flawsOf(analysis: Analysis, depth = 0): string[] {
  const flaws: string[] = [];
  const figure = (what: string, si: number | undefined): void => {
    if (si !== undefined && !Number.isFinite(si)) flaws.push(`${what} is ${si}`);
  };
  const sentence = (what: string, text: string | undefined): void => {
    if (text === undefined) return;
    if (text.trim() === "") flaws.push(`${what} says nothing`);
    if (/\bNaN\b|\bInfinity\b|\bundefined\b|\[object/.test(text))
      flaws.push(`${what} says ${text}`);
  };
  for (const [path, value] of analysis.values) {
    figure(path, value.si);
    sentence(path, analysis.write(value));
    const isFigure = value.measure !== undefined;
    if (isFigure && (value.si === undefined) !== (value.standing === "missing"))
      flaws.push(`${path} is ${value.standing} and has ${value.si}`);
    if (value.standing === "solved" && value.reason === undefined)
      flaws.push(`${path} has no reason`);
    if (value.reason !== undefined)
      sentence(`reason of ${path}`, `${value.reason.title} ${value.reason.formula}`);
    for (const title of value.restsOn) sentence(`what ${path} rests on`, title);
    const spread = value.spread();
    figure(`± of ${path}`, spread?.worstAbove);
    figure(`± of ${path}`, spread?.worstBelow);
    figure(`± of ${path}`, spread?.rss);
    for (const each of value.contributors()) {
      figure(`share in ${path}`, each.share);
      sentence(`contributor of ${path}`, each.path);
    }
    if (analysis.valueAt(path)?.si !== value.si) flaws.push(`${path} is not found again`);
  }
  for (const check of analysis.checks) {
    sentence("a check", `${check.title} ${check.condition} ${check.code}`);
    figure(`margin of ${check.title}`, check.verdict.margin);
    if (check.verdict.nominal === "fails") {
      for (const fit of check.fits()) {
        for (const { si, shown } of fit.offers) {
          figure(`fit of ${check.title}`, si);
          sentence(`fit of ${check.title}`, shown);
        }
      }
    }
  }
  for (const curve of analysis.curves) {
    for (const { x, y } of curve.points()) {
      figure(`curve ${curve.name}`, x);
      figure(`curve ${curve.name}`, y);
    }
  }
  for (const asked of analysis.asked) {
    const { value } = asked;
    // An option's own questions are answered under that option.
    if (asked.option !== undefined) continue;
    if (value.standing === "missing" && !analysis.missing.some(({ path }) => path === value.path))
      flaws.push(`${value.path} is missing without a word`);
  }
  for (const missing of analysis.missing) sentence(`missing ${missing.path}`, missing.message);
  for (const finding of analysis.findings)
    flaws.push(...flawsOfFinding(finding, analysis, sentence));
  if (depth === 0) {
    for (const { name } of analysis.options) {
      const under = analysis.under(name);
      if (under === undefined) flaws.push(`option ${name} cannot be looked at`);
      else flaws.push(...flawsOf(under, 1));
    }
    flaws.push(...flawsOf(analysis.asBuilt(), 1));
  }
  return flaws;
}

function flawsOfFinding(
  finding: Finding,
  analysis: Analysis,
  sentence: (what: string, text: string | undefined) => void,
): string[] {
  const flaws: string[] = [];
  sentence(finding.code, finding.message);
  sentence(finding.code, finding.hint);
  if (!/^[a-z_-]+\/[a-z0-9_-]+$/.test(finding.code)) flaws.push(`code ${finding.code}`);
  const anchors = [
    finding.anchor,
    ...(finding.related ?? []).map(({ anchor }) => anchor),
    ...(finding.fixes ?? []).flatMap(({ edits }) => edits.map(({ anchor }) => anchor)),
  ];
  for (const { uri, item, span } of anchors) {
    const source = analysis.sourceOf(uri);
    if (source === undefined || !source.items.includes(item)) {
      flaws.push(`${finding.code} is nowhere: ${finding.message}`);
    } else if (span.start < 0 || span.end < span.start || span.end > item.text.length) {
      flaws.push(
        `${finding.code} has no place: ${span.start} to ${span.end} of ${item.text.length}`,
      );
    }
  }
  return flaws;
}
