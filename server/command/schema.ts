/** `trammel schema`: the JSON Schema of what a verb writes. */
import { printJson } from "./print";
import { exit } from "./problem";
import type { World } from "./world";

export async function printSchema(verb: string, world: World): Promise<number> {
  // The schemas are only made where they are asked for: no other run pays for them.
  const { isContract, schemaOf } = await import("./contract");
  if (!isContract(verb)) return exit.unusable;
  printJson(world, schemaOf(verb));
  return exit.clean;
}
