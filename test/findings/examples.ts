/**
 * Facts for every sentence there is; one without an example does not compile. Names and figures are
 * made up for the sentence alone.
 */

import type { Examples } from "./example-facts";
import { ofFigures } from "./examples-of-figures";
import { ofTexts } from "./examples-of-texts";
import { ofWork } from "./examples-of-work";

export { here } from "./example-facts";

export const examples: Examples = { ...ofTexts, ...ofFigures, ...ofWork };
