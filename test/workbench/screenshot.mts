/**
 * Writes a picture of a build as it looks in the editor, with inline values and findings.
 *
 *     npm run workbench:screenshot -- samples/harbor-van/build.trammel van.png
 *     npm run workbench:screenshot -- build.trammel detail.png 40 1000x500   # line 40 on top
 */
import { dirname, resolve } from "node:path";
import { runInEditor } from "./host/launch.mts";

const [file, picture, line, size] = process.argv.slice(2);
if (file === undefined || picture === undefined) {
  console.error("usage: npm run workbench:screenshot -- FILE OUT.png [FIRST_LINE [WIDTHxHEIGHT]]");
  process.exit(2);
}
const from = process.env.INIT_CWD ?? process.cwd();
const build = resolve(from, file);
const succeeded = await runInEditor({
  module: "picture",
  workspace: dirname(build),
  host: "served",
  env: {
    TRAMMEL_PICTURE_OF: build,
    TRAMMEL_PICTURE: resolve(from, picture),
    TRAMMEL_LINE: line ?? "1",
    TRAMMEL_VIEW: size ?? "1280x900",
  },
});
if (succeeded) console.log(`written: ${picture}`);
process.exitCode = succeeded ? 0 : 1;
