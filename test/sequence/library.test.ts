import { describe, expect, test } from "vitest";
import { library } from "./helper";

const files = ["thread", "joint", "wrench", "procedure", "order"].map(
  (name) => `library:/${name}.trammel`,
);

describe("the library's files on the order of work", () => {
  test("nothing in them is objected to", () => {
    const findings = library().findings.filter(
      ({ anchor }) => files.includes(anchor.uri) || anchor.uri.includes("/chapters/"),
    );
    expect(findings.map(({ message, anchor }) => `${anchor.uri} ${message}`)).toEqual([]);
  });

  test("all of them are read without a slip of syntax", () => {
    for (const [uri, file] of library().files) {
      if (!files.includes(uri) && !uri.includes("/chapters/")) continue;
      const problems = file.source.items.flatMap(({ problems }) =>
        problems.map(({ message }) => message),
      );
      expect(problems, uri).toEqual([]);
    }
  });

  test("every relation, check, table and order of them names a source", () => {
    const { kinds, tables, orders } = library().vocabulary;
    for (const kind of kinds.values()) {
      if (!files.includes(kind.anchor.uri)) continue;
      for (const each of [...kind.relations, ...kind.checks]) {
        if (!files.includes(each.anchor.uri)) continue;
        expect(each.remarks.source, `${kind.name}: ${each.title}`).toBeTruthy();
      }
      for (const field of kind.fields.values()) {
        if (field.default !== undefined)
          expect(field.source, `${kind.name}.${field.name}`).toBeTruthy();
      }
    }
    for (const table of tables.values()) expect(table.remarks.source, table.name).toBeTruthy();
    for (const order of orders) {
      expect(order.remarks.source, order.title).toBeTruthy();
      expect(order.remarks.because, order.title).toBeTruthy();
    }
  });

  test("every check of a joint says what to do", () => {
    const { checks = [] } = library().vocabulary.kinds.get("joint") ?? {};
    expect(checks.length).toBeGreaterThan(0);
    for (const { title, remarks } of checks) expect(remarks.advise, title).toBeTruthy();
  });
});
