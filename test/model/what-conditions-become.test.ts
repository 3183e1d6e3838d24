/** Conditions as the solver is given them, over the figures of a thing, and what is wrong with the others. */
import { describe, expect, test } from "vitest";
import { all, condition } from "./formula-told";

describe("a condition becomes", () => {
  test("comparisons and what joins them; words are settled at once", () => {
    expect(
      all(
        `p.a > p.b
         p.a >= 0
         0 < p.a
         p.k <= 3
         p.a == p.b
         p.a != p.b
         2 > 1
         (p.a > p.b)
         not p.a > p.b
         not (p.form == round)
         p.a > p.b and p.b > 1 in
         p.a > p.b or p.b > 1 in
         p.form == round and p.a > p.b
         p.form == square and p.a > p.b
         p.form == round or p.a > p.b
         p.form == square or p.a > p.b
         p.a > p.b and p.form == round
         p.a > p.b and p.form == square
         p.a > p.b or p.form == round
         p.a > p.b or p.form == square
         p.form == round
         round == p.form
         p.form != round
         p.form == "round"
         p.form == p.name
         p.name == "a"
         p.name >= "a"
         p.name > "a"
         p.name <= "a"
         p.name < "a"
         "0" < p.name
         p.name > "0"
         p.good
         p.good == yes
         p.good == no
         p.good != yes
         yes
         p.day == 2026-03-14
         p.day > 2026-01-01
         p.form == q
         given(p.a)
         given(q.a)
         given(p.name)
         given(p.form)
         given(p.pin)
         given(p.sizes)
         given(q.sizes)
         given(p.pins)
         given(q.pins)
         given(q)
         not given(q.a)
         p.a == 3 in ± 0.1 in
         p.a != 3 in ± 0.1 in
         p.a == 2 in..4 in
         p.a != 2 in..4 in`,
        condition,
      ),
    ).toMatchInlineSnapshot(`
      "p.a > p.b  →  p.a > p.b (p.a > p.b as length)
      p.a >= 0  →  p.a >= 0 (p.a >= 0 as length)
      0 < p.a  →  0 < p.a (0 < p.a as length)
      p.k <= 3  →  p.k <= 3 (p.k <= 3 as number)
      p.a == p.b  →  p.a == p.b (p.a == p.b as length)
      p.a != p.b  →  p.a != p.b (p.a != p.b as length)
      2 > 1  →  2 > 1 (2 > 1 as )
      (p.a > p.b)  →  p.a > p.b (p.a > p.b as length)
      not p.a > p.b  →  not (p.a > p.b)
      not (p.form == round)  →  false
      p.a > p.b and p.b > 1 in  →  (p.a > p.b and p.b > 0.0254)
      p.a > p.b or p.b > 1 in  →  (p.a > p.b or p.b > 0.0254)
      p.form == round and p.a > p.b  →  p.a > p.b (p.a > p.b as length)
      p.form == square and p.a > p.b  →  false
      p.form == round or p.a > p.b  →  true
      p.form == square or p.a > p.b  →  p.a > p.b (p.a > p.b as length)
      p.a > p.b and p.form == round  →  p.a > p.b (p.a > p.b as length)
      p.a > p.b and p.form == square  →  false
      p.a > p.b or p.form == round  →  true
      p.a > p.b or p.form == square  →  p.a > p.b (p.a > p.b as length)
      p.form == round  →  true
      round == p.form  →  true
      p.form != round  →  false
      p.form == "round"  →  true
      p.form == p.name  →  false
      p.name == "a"  →  true
      p.name >= "a"  →  true
      p.name > "a"  →  false
      p.name <= "a"  →  true
      p.name < "a"  →  false
      "0" < p.name  →  true
      p.name > "0"  →  true
      p.good  →  true
      p.good == yes  →  true
      p.good == no  →  false
      p.good != yes  →  false
      yes  →  true
      p.day == 2026-03-14  →  true
      p.day > 2026-01-01  →  true
      p.form == q  →  false
      given(p.a)  →  true
      given(q.a)  →  false
      given(p.name)  →  true
      given(p.form)  →  false
      given(p.pin)  →  false
      given(p.sizes)  →  true
      given(q.sizes)  →  false
      given(p.pins)  →  true
      given(q.pins)  →  false
      given(q)  →  true
      not given(q.a)  →  true
      p.a == 3 in ± 0.1 in  →  (p.a >= 0.07366 and p.a <= 0.07874)
      p.a != 3 in ± 0.1 in  →  not ((p.a >= 0.07366 and p.a <= 0.07874))
      p.a == 2 in..4 in  →  (p.a >= 0.0508 and p.a <= 0.1016)
      p.a != 2 in..4 in  →  not ((p.a >= 0.0508 and p.a <= 0.1016))"
    `);
  });

  test("nothing where it is wrong, and what is wrong is told", () => {
    expect(
      all(
        `p.a
         p.name
         q
         3 in
         p.sizes
         p.a > p.w
         p.a > p.name
         p.name > p.a
         p.name == p.sizes
         p.sizes == p.name
         p.sizes > p.a
         p.a > p.sizes
         p.names == p.names
         p.a > nobody
         nobody > p.a
         given(nobody)
         given(p.nothing)
         not given(p.nothing)
         p.other_name == "a"
         "a" == p.other_name
         p.other_name > p.a
         p.nothing == round
         p.a == round
         not p.a
         p.a and p.b > 1 in
         p.a > 1 in or p.b
         p.a > 3 in ± 0.1 in`,
        condition,
      ),
    ).toMatchInlineSnapshot(`
      "p.a  →  value/not-a-condition \`p.a\`
      p.name  →  value/not-a-condition \`p.name\`
      q  →  value/thing-in-formula \`q\`
      3 in  →  value/not-a-condition \`3 in\`
      p.sizes  →  value/not-a-condition \`p.sizes\`
      p.a > p.w  →  unit/clash sides \`p.a > p.w\`
      p.a > p.name  →  value/clash \`p.a > p.name\`
      p.name > p.a  →  value/clash \`p.name > p.a\`
      p.name == p.sizes  →  value/list several \`p.sizes\`
      p.sizes == p.name  →  value/list several \`p.sizes\`
      p.sizes > p.a  →  value/list several \`p.sizes\`
      p.a > p.sizes  →  value/list several \`p.sizes\`
      p.names == p.names  →  value/list several \`p.names\`
      p.a > nobody  →  name/unknown \`nobody\`
      nobody > p.a  →  name/unknown \`nobody\`
      given(nobody)  →  name/unknown \`nobody\`
      given(p.nothing)  →  name/unknown-field \`nothing\`
      not given(p.nothing)  →  name/unknown-field \`nothing\`
      p.other_name == "a"  →  true [not there]
      "a" == p.other_name  →  true [not there]
      p.other_name > p.a  →  true [not there]
      p.nothing == round  →  name/unknown-field \`nothing\`, name/unknown \`round\`
      p.a == round  →  name/unknown \`round\`
      not p.a  →  value/not-a-condition \`p.a\`
      p.a and p.b > 1 in  →  value/not-a-condition \`p.a\`
      p.a > 1 in or p.b  →  value/not-a-condition \`p.b\`
      p.a > 3 in ± 0.1 in  →  value/tolerance-in-formula \`3 in ± 0.1 in\`"
    `);
  });
});
