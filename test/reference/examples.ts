/**
 * The examples that stand below the kinds of the library, as builds.
 *
 *     for (const { subject, title, text } of libraryExamples()) …
 */
import { libraryFiles } from "../../server/library-files";

export interface LibraryExample {
  readonly subject: string;
  readonly title: string;
  readonly text: string;
}

export function libraryExamples(): readonly LibraryExample[] {
  return libraryFiles().flatMap(({ path, text }) => {
    const examples: { title: string; lines: string[] }[] = [];
    for (const line of text.split("\n")) {
      const title = /^# Example: (.*)$/.exec(line)?.[1];
      const body = /^# {3}(.*)$/.exec(line)?.[1];
      if (title !== undefined) examples.push({ title, lines: [] });
      else if (body !== undefined) examples.at(-1)?.lines.push(body);
    }
    return examples.map(({ title, lines }) => ({
      subject: path,
      title,
      text: `${lines.join("\n")}\n`,
    }));
  });
}
