import { test } from "vitest";
import { analysed, findingsOf } from "./build";
test("x", () => {
  const t = `table loads "Loads" { key size: length in mm
 load: mass in kg
 lookup linear
 row 10, 1  row 20, 4  row 40, 9 }
table grades "G" { key thick: length in mm
 strength: stress in MPa
 lookup step
 row 0, 250  row 16, 235 }
kind beam { size: length natural range 10 mm..40 mm load: mass  strength: stress
  relation "load": load = loads(size)
  relation "strength": strength = grades(size)
}
beam b { load: 6.5 kg size: ? }`;
  const a = analysed(t);
  console.log(findingsOf(a).join("\n"));
  for (const v of a.values.values()) console.log(v.path, v.standing, v.si, v.reason?.title, v.restsOn);
});
