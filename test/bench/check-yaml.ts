/**
 * Holds every YAML file of a folder against a schema: what `trammel check` over as many builds is
 * measured beside. One process, each file read, parsed and held against the schema once.
 *
 *     node check-yaml.mjs /shop/yaml /shop/schema.json
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { Ajv } from "ajv";
import { parse } from "yaml";

const [folder = "", schema = ""] = process.argv.slice(2);
const holds = new Ajv({ strict: false, allErrors: true }).compile(
  JSON.parse(readFileSync(schema, "utf8")),
);
let wrong = 0;
for (const name of readdirSync(folder).sort()) {
  if (holds(parse(readFileSync(join(folder, name), "utf8")))) continue;
  wrong++;
  console.error(name, JSON.stringify(holds.errors?.[0]));
}
console.log(`${wrong} files do not keep to the schema`);
