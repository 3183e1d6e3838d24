/**
 * One first reading of a build in a process of its own, as when it is the first file an editor
 * opens; prints its time as JSON. Nothing is warmed up but what a started server has done anyway:
 * the library is read, or the schema is taken in.
 *
 *     node first-analysis.mjs trammel /shop/fleet.trammel
 *     node first-analysis.mjs yaml /shop/fleet.trammel
 */
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { OpenBuild, OpenYaml } from "./editing";
import { timed } from "./measure";

const [language, path = ""] = process.argv.slice(2);
const text = readFileSync(path, "utf8");
const uri = pathToFileURL(path).href;
if (language === "yaml") {
  const yaml = new OpenYaml(`${uri}.yaml`, text);
  let findings = 0;
  const time = await timed(async () => {
    findings = await yaml.answer();
  });
  if (findings > 0) throw new Error(`${findings} findings, none are expected`);
  console.log(JSON.stringify(time));
} else {
  const build = new OpenBuild(uri, text);
  console.log(JSON.stringify(await timed(() => build.answer(text.split("\n").length / 2))));
}
