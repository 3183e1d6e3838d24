/**
 * The generated builds written as YAML, line for line, and a JSON schema that they keep to: the
 * same work for a general-purpose language service.
 *
 *     yamlOf('wheel van1_wheel "Wheel" {\n  offset: 18 mm\n}\n')
 *     // van1_wheel:
 *     //   offset: "18 mm"
 *     //   kind: "wheel"
 *
 * Reads only what `generate.ts` writes: it goes by lines, not by the language.
 */

export interface JsonSchema {
  readonly [key: string]: unknown;
}

/** As many lines as the build has. */
export function yamlOf(build: string): string {
  return convert(build).yaml;
}

/** Every kind with its fields, each with a pattern or list that its values keep to. */
export function schemaOf(builds: readonly string[]): JsonSchema {
  const kinds = new Map<string, Map<string, Set<Shape>>>();
  const roles = new Map<string, string>();
  for (const build of builds) {
    const converted = convert(build);
    // Options hold nothing but paths, so they are no kind with fields.
    for (const kind of converted.kinds) kinds.set(kind, kinds.get(kind) ?? new Map());
    for (const { kind, field, shape } of converted.fields) {
      const fields = kinds.get(kind) ?? new Map<string, Set<Shape>>();
      kinds.set(kind, fields);
      fields.set(field, (fields.get(field) ?? new Set<Shape>()).add(shape));
    }
    for (const [role, kind] of converted.roles) roles.set(role, kind);
  }
  const definitions = [...kinds].map(([kind, fields]) => [kind, kindSchema(kind, fields)]);
  const byRole = [...roles].map(([role, kind]) => [
    `^[a-z]+[0-9]+_${role}$`,
    { $ref: `#/definitions/${kind}` },
  ]);
  return {
    $schema: "http://json-schema.org/draft-07/schema#",
    type: "object",
    definitions: Object.fromEntries(definitions),
    patternProperties: {
      ...Object.fromEntries(byRole),
      "^(use|display|check|advise)_[0-9]+$": { type: "string", minLength: 3 },
      "^record_[0-9]+$": { $ref: "#/definitions/record" },
      "\\.": { type: "string", minLength: 1 },
    },
    additionalProperties: false,
  };
}

// ───────────────────────────── lines ─────────────────────────────

type Shape = "figure" | "word" | "text" | "list" | "thing";

interface Converted {
  readonly yaml: string;
  readonly fields: readonly {
    readonly kind: string;
    readonly field: string;
    readonly shape: Shape;
  }[];
  readonly kinds: ReadonlySet<string>;
  /** Kind of a top thing by its name without its owner. */
  readonly roles: ReadonlyMap<string, string>;
}

const opening = /^(\s*)(\w+) (\w+)(?: ("[^"]*"))? \{$/;
const partOpening = /^(\s*)(\w+) \{$/;
const recordOpening = /^record ("[^"]*") .*\{$/;
const oneLine = /^(\s*)([\w.]+) \{ (.*) \}$/;
const given = /^(\s*)([\w.]+): (.*?)(\s{2}# .*)?$/;
const claim = /^(\s*)check ("[^"]*"): (.*)$/;
const advice = /^(\s*)advise ("[^"]*")$/;

function convert(build: string): Converted {
  const open: { kind: string; title: string | undefined }[] = [];
  const fields: Converted["fields"][number][] = [];
  const kinds = new Set<string>();
  const roles = new Map<string, string>();
  let closed: string | undefined;
  const note = (field: string, shape: Shape): void => {
    const kind = open.at(-1)?.kind;
    if (kind !== undefined && !field.includes(".")) {
      fields.push({ kind, field: field.replace(/_[0-9]+$/, "_"), shape });
    }
  };
  const yaml = build.split("\n").map((line, number) => {
    const title = closed;
    closed = undefined;
    if (line === "") return title === undefined || open.length > 0 ? "" : `  title: ${title}`;
    if (/^\s*#/.test(line)) return line;
    const close = /^(\s*)\}$/.exec(line);
    if (close !== null) {
      const { kind = "", title } = open.pop() ?? {};
      kinds.add(kind);
      closed = open.length === 0 ? title : undefined;
      return `${close[1]}  kind: "${kind}"`;
    }
    const use = /^use (".*")$/.exec(line);
    if (use !== null) return `use_${number}: ${use[1]}`;
    if (line.startsWith("display ")) return `display_${number}: ${JSON.stringify(line.slice(8))}`;
    const record = recordOpening.exec(line);
    if (record !== null) {
      open.push({ kind: "record", title: record[1] });
      return `record_${number}:`;
    }
    const single = oneLine.exec(line);
    if (single !== null) {
      const [, indent = "", name = "", inside = ""] = single;
      note(`${name}_${number}`, "thing");
      const pairs = inside.split(/\s{2,}/).map((pair) => pair.replace(/: (.*)$/, ': "$1"'));
      return `${indent}${name}_${number}: { ${pairs.join(", ")} }`;
    }
    const thing = opening.exec(line);
    if (thing !== null) {
      const [, indent = "", kind = "", name = "", title] = thing;
      if (open.length === 0) roles.set(name.replace(/^[a-z]+[0-9]+_/, ""), kind);
      else note(name, "thing");
      open.push({ kind, title });
      return `${indent}${name}:`;
    }
    const part = partOpening.exec(line);
    if (part !== null) {
      const [, indent = "", name = ""] = part;
      note(name, "thing");
      open.push({ kind: `part_${name}`, title: undefined });
      return `${indent}${name}:`;
    }
    const check = claim.exec(line);
    if (check !== null) {
      note(`check_${number}`, "text");
      return `${check[1]}check_${number}: ${JSON.stringify(check[3])}`;
    }
    const advise = advice.exec(line);
    if (advise !== null) return `advise_${number}: ${advise[2]}`;
    const pair = given.exec(line);
    if (pair === null) throw new Error(`line ${number + 1} is not one that is generated: ${line}`);
    const [, indent = "", field = "", value = "", comment = ""] = pair;
    note(field, shapeOf(value));
    return `${indent}${field}: ${yamlValue(value)}${comment}`;
  });
  return { yaml: yaml.join("\n"), fields, kinds, roles };
}

function yamlValue(value: string): string {
  if (value.startsWith('"')) return value;
  if (!value.startsWith("[")) return JSON.stringify(value);
  return JSON.stringify(value.slice(1, -1).split(", "));
}

function shapeOf(value: string): Shape {
  if (value.startsWith("[")) return "list";
  if (value.startsWith('"')) return "text";
  return /^[-\d?]/.test(value) ? "figure" : "word";
}

// ───────────────────────────── schema ─────────────────────────────

function kindSchema(kind: string, fields: ReadonlyMap<string, ReadonlySet<Shape>>): JsonSchema {
  const properties: Record<string, JsonSchema> = {
    kind: { const: kind },
    title: { type: "string", minLength: 1 },
  };
  const patterns: Record<string, JsonSchema> = { "\\.": { type: "string", minLength: 1 } };
  for (const [field, shapes] of fields) {
    if (field.endsWith("_")) {
      patterns[`^${field}[0-9]+$`] = shapes.has("thing")
        ? { type: "object", additionalProperties: { type: "string" } }
        : { type: "string" };
    } else properties[field] = fieldSchema(field, shapes);
  }
  // Members of options and records are called by the names of things.
  patterns["^[a-z]+[0-9]+_\\w+_[0-9]+$"] = { type: "object" };
  return {
    type: "object",
    properties,
    patternProperties: patterns,
    required: ["kind"],
    additionalProperties: false,
  };
}

function fieldSchema(field: string, shapes: ReadonlySet<Shape>): JsonSchema {
  // A part has fields of its own; other things inside of things are steps.
  const inside = ["left", "right", "fit"].includes(field) ? `part_${field}` : "step";
  const schemas: Record<Shape, JsonSchema> = {
    figure: { type: "string", pattern: "^(\\?|-?[0-9][0-9./: x-]*)" },
    word: { type: "string", pattern: "^[A-Za-z]" },
    text: { type: "string", minLength: 1 },
    list: { type: "array", items: { type: "string" } },
    thing: { $ref: `#/definitions/${inside}` },
  };
  const all = [...shapes].map((shape) => schemas[shape]);
  return all.length === 1 && all[0] !== undefined ? all[0] : { anyOf: all };
}
