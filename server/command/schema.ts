/** `trammel schema`: the JSON Schema of what a verb writes. */
import { exit } from "./problem";
import type { World } from "./world";

export const schemaVerbs = ["check", "choose", "compare", "curve", "explain", "show"] as const;

export async function printSchema(verb: string, world: World): Promise<number> {
  // The schemas are only made where they are asked for: no other run pays for them.
  const { schemaOf } = await import("./contract");
  const known = schemaVerbs.find((each) => each === verb);
  if (known === undefined) return exit.unusable;
  world.out(`${JSON.stringify(schemaOf(known), undefined, 2)}\n`);
  return exit.clean;
}
