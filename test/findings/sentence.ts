/** The sentence of a finding, as a build in inches tells it at the levels it comes with. */
import type { Fact } from "../../server/findings/worded";
import { writerFor } from "../../server/findings/worded";
import { defaultLevels } from "../../server/findings/writer";
import { defaultStyle } from "../../server/units";

const writer = writerFor(defaultStyle("inch"), defaultLevels);

export function sentence(fact: Fact): string {
  return writer.message(fact);
}
