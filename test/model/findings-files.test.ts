/** Golden texts: files a build takes in, and how it wants its values shown. */
import { expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import type { FileHost } from "../../server/analysis/host";
import { findingsOf, folder, library } from "./build";
import { golden } from "./golden";

test("a file that is not there", () => {
  expect(golden('use "parts/wheels.trammel"\nwheel w { offset: 18 mm }')).toMatchInlineSnapshot(`
    "1:5 error use/missing \`"parts/wheels.trammel"\`
      there is no file "parts/wheels.trammel"
      hint check the path; it is read from the folder of this file"
  `);
});

test("a file with a near name", () => {
  expect(
    golden(
      '//- build.trammel\nuse "parts/weels.trammel"\nuse "parts/tires.trammel"\n//- parts/wheels.trammel\n//- parts/tires.trammel\n',
    ),
  ).toMatchInlineSnapshot(`
    "1:5 error use/missing \`"parts/weels.trammel"\`
      there is no file "parts/weels.trammel"
      hint check the path; it is read from the folder of this file"
  `);
});

test("a library file that is not there", () => {
  expect(golden('use "library:chapters/wled.trammel"')).toMatchInlineSnapshot(`
    "1:5 error use/missing \`"library:chapters/wled.trammel"\`
      Trammel's library has no file "library:chapters/wled.trammel"
      hint did you mean "library:chapters/weld.trammel"?
      fix write "library:chapters/weld.trammel": use "library:chapters/weld.trammel""
  `);
});

test("a pattern that suits no file", () => {
  const host: FileHost = {
    read: (uri) =>
      uri.endsWith("build.trammel")
        ? { text: 'use "days/*.trammel"' }
        : { problem: "missing", why: "there is no such file" },
    namesIn: () => [],
  };
  const analysis = new Analyzer(host, library()).analyze(`${folder}build.trammel`);
  expect(analysis?.findings.map(({ code, message }) => `: ${code} ${message}`)).toEqual([
    ': use/none there is no file like "days/*.trammel"',
  ]);
});

test("a file that is no text", () => {
  const host: FileHost = {
    read: (uri) =>
      uri.endsWith("build.trammel")
        ? { text: 'use "photo.trammel"\nwheel w { offset: 18 mm }' }
        : { problem: "unreadable", why: "it is not a text file" },
  };
  const analysis = new Analyzer(host, library()).analyze(`${folder}build.trammel`);
  // The code use/unreadable is told apart from a file that is not there.
  expect(analysis && findingsOf(analysis)).toEqual([
    '1:5 error use/unreadable: "photo.trammel" cannot be read: it is not a text file | check the path; it is read from the folder of this file',
  ]);
});

test("files that go round in a circle", () => {
  expect(
    golden(
      '//- build.trammel\nuse "a.trammel"\n//- a.trammel\nuse "b.trammel"\nwheel w { offset: 1 in }\n//- b.trammel\nuse "a.trammel"\n',
    ),
  ).toMatchInlineSnapshot(`
    "b.trammel 1:5 error use/circular \`"a.trammel"\`
      this goes round in a circle: a.trammel uses b.trammel uses a.trammel
      hint move what both need into a third file"
  `);
  expect(golden('use "build.trammel"')).toMatchInlineSnapshot(`
    "1:5 error use/circular \`"build.trammel"\`
      this goes round in a circle: build.trammel uses build.trammel
      hint move what both need into a third file"
  `);
});

test("a file outside of the workspace", () => {
  expect(golden('use "../elsewhere.trammel"')).toMatchInlineSnapshot(`
    "1:5 error use/outside \`"../elsewhere.trammel"\`
      "../elsewhere.trammel" lies outside of the workspace
      hint keep the files of a build in one folder and use paths inside it"
  `);
  expect(golden('use "/etc/passwd"')).toMatchInlineSnapshot(`
    "1:5 error use/not-a-path \`"/etc/passwd"\`
      "/etc/passwd" begins at the top of a disk
      hint write a path beside this file, such as "parts/wheels.trammel""
  `);
  expect(golden('use "C:\\\\parts\\\\wheels.trammel"')).toMatchInlineSnapshot(`
    "1:5 error use/not-a-path \`"C:\\\\parts\\\\wheels.trammel"\`
      "C:\\parts\\wheels.trammel" begins at the top of a disk
      hint write a path beside this file, such as "parts/wheels.trammel""
  `);
});

test("not a path", () => {
  expect(golden('use "https://example.com/wheels.trammel"')).toMatchInlineSnapshot(`
    "1:5 error use/not-a-path \`"https://example.com/wheels.trammel"\`
      "https://example.com/wheels.trammel" is not a path to a file
      hint write a path beside this file, such as "parts/wheels.trammel""
  `);
  expect(golden('use ""')).toMatchInlineSnapshot(`
    "1:5 error use/not-a-path \`""\`
      the path of a file is missing
      hint write a path beside this file, such as "parts/wheels.trammel""
  `);
});

test("too many files", () => {
  const many = Array.from({ length: 501 }, (_, index) => `//- p${index}.trammel\n`).join("");
  const uses = Array.from({ length: 501 }, (_, index) => `use "p${index}.trammel"`).join("\n");
  expect(golden(`//- build.trammel\n${uses}\n${many}`)).toMatchInlineSnapshot(`
    "500:5 error use/too-many \`"p499.trammel"\`
      a build can use 500 files at most, this one is left out
      hint put several lists into one file
    501:5 error use/too-many \`"p500.trammel"\`
      a build can use 500 files at most, this one is left out
      hint put several lists into one file"
  `);
});

test("how values are shown", () => {
  expect(golden("display { lenght: in }")).toMatchInlineSnapshot(`
    "1:11 error display/unknown-measure \`lenght\`
      there is no measure called "lenght", did you mean length?
      fix write length: display { length: in }"
  `);
  expect(golden("display { length: inch }")).toMatchInlineSnapshot(`""`);
  expect(golden("display { length: kg }")).toMatchInlineSnapshot(`
    "1:19 error display/wrong-unit \`kg\`
      a length cannot be shown in kg: use in, mm or ft
      fix write in: display { length: in }
      fix write mm: display { length: mm }
      fix write ft: display { length: ft }"
  `);
  expect(golden("display { length: in 3/32 }")).toMatchInlineSnapshot(`
    "1:22 error display/bad-increment \`3/32\`
      "3/32" is no step to round to: write a fraction such as 1/32 or a number such as 0.001
      fix write 1/32: display { length: in 1/32 }
      fix write 0.001: display { length: in 0.001 }"
  `);
  expect(golden("display { torque: lb }")).toMatchInlineSnapshot(`
    "1:19 error display/wrong-unit \`lb\`
      a torque cannot be shown in lb: use lb-ft, N-m or in-lb
      fix write lb-ft: display { torque: lb-ft }
      fix write N-m: display { torque: N-m }
      fix write in-lb: display { torque: in-lb }"
  `);
});

test("a file of another sort, and one at the top of a disk", () => {
  expect(golden('use "notes.txt"\nuse "C:/parts.trammel"')).toMatchInlineSnapshot(`
    "1:5 error use/not-a-build \`"notes.txt"\`
      "notes.txt" does not end with .trammel
      hint only files that end with .trammel are read
    2:5 error use/not-a-path \`"C:/parts.trammel"\`
      "C:/parts.trammel" begins at the top of a disk
      hint write a path beside this file, such as "parts/wheels.trammel""
  `);
});
