/**
 * Puts the library into a bundle in place of the module that reads it from disk: its texts, and what
 * they were read to, so that what runs parses none of them.
 */
import { join } from "node:path";
import type { Plugin } from "esbuild";

const root = join(import.meta.dirname, "..");

export const embedLibrary: Plugin = {
  name: "embed-library",
  setup(build) {
    build.onLoad({ filter: /[\\/]server[\\/]library-files\.ts$/ }, async () => {
      const { shapes, files } = await libraryRead();
      return {
        contents: `const shapes = ${JSON.stringify(shapes)};
          const files = ${JSON.stringify(files)};
          for (const { packed } of files) packed.shapes = shapes;
          export function libraryFiles() { return files; }`,
        loader: "js",
      };
    });
  },
};

interface LibraryRead {
  readonly shapes: readonly object[];
  readonly files: readonly object[];
}

let read: Promise<LibraryRead> | undefined;

function libraryRead(): Promise<LibraryRead> {
  read ??= readLibrary();
  return read;
}

async function readLibrary(): Promise<LibraryRead> {
  const { libraryFiles } = await import("../server/library-files.ts");
  const { packed, parseFile } = await grammar();
  const shapes: string[][] = [];
  const files = libraryFiles().map(({ path, text }) => {
    const file = packed(parseFile(text), shapes);
    // Files share their shapes, which are written once.
    if (file === undefined) throw new Error(`something is wrong in ${path}`);
    return { path, text, packed: { starts: file.starts, items: file.items } };
  });
  return { shapes, files };
}

/** The sources name each other without endings, which Node by itself does not follow. */
async function grammar(): Promise<
  Pick<typeof import("../grammar/packed-file.ts"), "packed"> &
    Pick<typeof import("../grammar/source-file.ts"), "parseFile">
> {
  const { build } = await import("esbuild");
  const { outputFiles } = await build({
    stdin: {
      contents: `export { packed } from "./grammar/packed-file"; export { parseFile } from "./grammar/source-file";`,
      resolveDir: root,
    },
    bundle: true,
    platform: "node",
    format: "esm",
    write: false,
    logLevel: "error",
  });
  const code = Buffer.from(outputFiles[0]?.contents ?? []).toString("base64");
  return import(`data:text/javascript;base64,${code}`);
}
