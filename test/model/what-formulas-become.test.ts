/**
 * Formulas as the solver is given them: each operator, function and list over the figures of a thing,
 * what is put together at once, what each comes out as, and what is wrong with the others.
 */
import { describe, expect, test } from "vitest";
import { all, formula } from "./formula-told";

describe("a formula becomes", () => {
  test("sums, products and powers, written numbers put together at once", () => {
    expect(
      all(
        `p.a + p.b
         p.a - p.b
         p.a * p.b
         p.a / p.b
         p.a * p.k
         p.k * p.a
         p.k / p.a
         p.a / p.k
         p.share * p.k
         p.w * p.a
         p.a ^ 2
         p.k ^ p.k
         2 ^ p.k
         -p.a
         -(2 in)
         -2 in
         -10 degC
         p.heat + 10 K
         p.a + 0
         0 + p.a
         0 - p.a
         2 in + 3 in
         2 in - 3 in
         2 in * 3
         6 in / 3
         2 ^ 3
         2 / 0
         -(-3)
         (p.a)
         5 ft 2 in
         p.w + 3 lb
         3 lb + p.w
         pi
         x + pi
         if p.a > p.b then p.a else p.b
         if 1 > 2 then p.a else p.b
         if p.form == round then p.a else p.b
         if p.form == square then p.a else p.b
         if p.a > p.b then 0 else p.b
         if p.a > p.b then p.b else 0
         if p.good then p.a else p.b
         if p.a > p.b then 1 N else 3 lb
         if p.a > p.b then 1 kg else 3 lb
         3 lb + 1 N
         1 N + 3 lb`,
        formula,
      ),
    ).toMatchInlineSnapshot(`
      "p.a + p.b  →  p.a + p.b (length)
      p.a - p.b  →  p.a - p.b (length)
      p.a * p.b  →  p.a * p.b (area)
      p.a / p.b  →  p.a / p.b (number)
      p.a * p.k  →  p.a * p.k (length)
      p.k * p.a  →  p.k * p.a (length)
      p.k / p.a  →  p.k / p.a (per_length)
      p.a / p.k  →  p.a / p.k (length)
      p.share * p.k  →  p.share * p.k (number)
      p.w * p.a  →  p.w * p.a (no measure)
      p.a ^ 2  →  p.a ^ 2 (area)
      p.k ^ p.k  →  p.k ^ p.k (number)
      2 ^ p.k  →  2 ^ p.k (number)
      -p.a  →  -p.a (length)
      -(2 in)  →  -0.0508 (length)
      -2 in  →  -0.0508 (length)
      -10 degC  →  263.15 (temperature)
      p.heat + 10 K  →  p.heat + 10 (temperature)
      p.a + 0  →  p.a + 0 (length)
      0 + p.a  →  0 + p.a (length)
      0 - p.a  →  0 - p.a (length)
      2 in + 3 in  →  0.127 (length)
      2 in - 3 in  →  -0.0254 (length)
      2 in * 3  →  0.1524 (length)
      6 in / 3  →  0.0508 (length)
      2 ^ 3  →  8 (number)
      2 / 0  →  2 / 0 (number)
      -(-3)  →  3 (number)
      (p.a)  →  p.a (length)
      5 ft 2 in  →  1.5748 (length)
      p.w + 3 lb  →  p.w + 1.36077711 (mass)
      3 lb + p.w  →  1.36077711 + p.w (mass)
      pi  →  3.14159265359 (number)
      x + pi  →  slot 0 + 3.14159265359 (number)
      if p.a > p.b then p.a else p.b  →  if p.a > p.b then p.a else p.b (length)
      if 1 > 2 then p.a else p.b  →  if 1 > 2 then p.a else p.b (length)
      if p.form == round then p.a else p.b  →  p.a (length)
      if p.form == square then p.a else p.b  →  p.b (length)
      if p.a > p.b then 0 else p.b  →  if p.a > p.b then 0 else p.b (length)
      if p.a > p.b then p.b else 0  →  if p.a > p.b then p.b else 0 (length)
      if p.good then p.a else p.b  →  p.a (length)
      if p.a > p.b then 1 N else 3 lb  →  if p.a > p.b then 1 else 13.3446648458 (force)
      if p.a > p.b then 1 kg else 3 lb  →  if p.a > p.b then 1 else 1.36077711 (mass)
      3 lb + 1 N  →  unit/clash sides \`3 lb + 1 N\`
      1 N + 3 lb  →  14.3446648458 (force)"
    `);
  });

  test("functions, and what is put together of several", () => {
    expect(
      all(
        `abs(p.a)
         sqrt(p.a * p.b)
         sqrt(p.k)
         exp(p.k)
         log(p.k)
         sin(p.t)
         cos(30 deg)
         tan(p.k)
         asin(p.k)
         acos(p.share)
         atan(p.k)
         atan2(p.a, p.b)
         min(p.a, p.b, 3 in)
         max(0, p.a)
         max(p.a, 0)
         max(0, 0)
         min(p.a)
         round(p.k)
         round(p.a, 1 mm)
         floor(p.k)
         ceil(p.a, 0.5 mm)
         sum(p.sizes)
         sum(p.a, p.b)
         sum(p.sizes, p.a)
         sum(p.sizes, p.sizes, p.a)
         sum(p.a)
         mean(p.sizes)
         mean(p.a)
         min(p.sizes)
         max(p.sizes, p.a)
         count(p.sizes)
         count(p.names)
         count(p.a, p.name)
         count(q.sizes)
         sum(q.sizes)
         sum(q.sizes) + p.a
         item(p.sizes, 1)
         item(p.sizes, p.n)
         item(p.sizes, p.k - p.n)
         item(p.sizes, p.k / p.n)
         item(p.sizes, p.n * 1)
         item(p.sizes, p.n ^ 1)
         item(p.sizes, -(-p.n))
         item(p.sizes, 3)
         item(p.sizes, x)
         stack(p.sizes, p.a, 0.1 in)
         stack_count(p.sizes, p.a, 0.1 in)
         loads(p.a)
         loads(x * 1 mm)
         loads(4 mm)
         loads(-(-q.a))
         loads(-(-4 mm))
         loads(q.a + 4 mm)
         loads(0)
         words(p.name)
         words("a")
         sum(each(pin).k)
         count(each(pin))`,
        formula,
      ),
    ).toMatchInlineSnapshot(`
      "abs(p.a)  →  abs(p.a) (length)
      sqrt(p.a * p.b)  →  sqrt(p.a * p.b) (length)
      sqrt(p.k)  →  sqrt(p.k) (number)
      exp(p.k)  →  exp(p.k) (number)
      log(p.k)  →  log(p.k) (number)
      sin(p.t)  →  sin(p.t) (number)
      cos(30 deg)  →  cos(0.523598775598) (number)
      tan(p.k)  →  tan(p.k) (number)
      asin(p.k)  →  asin(p.k) (number)
      acos(p.share)  →  acos(p.share) (number)
      atan(p.k)  →  atan(p.k) (number)
      atan2(p.a, p.b)  →  atan2(p.a, p.b) (number)
      min(p.a, p.b, 3 in)  →  min(p.a, p.b, 0.0762) (length)
      max(0, p.a)  →  max(0, p.a) (length)
      max(p.a, 0)  →  max(p.a, 0) (length)
      max(0, 0)  →  max(0, 0) (number)
      min(p.a)  →  min(p.a) (length)
      round(p.k)  →  round(p.k) (number)
      round(p.a, 1 mm)  →  round(p.a, 0.001) (length)
      floor(p.k)  →  floor(p.k) (number)
      ceil(p.a, 0.5 mm)  →  ceil(p.a, 0.0005) (length)
      sum(p.sizes)  →  p.sizes[1] + p.sizes[2] (length)
      sum(p.a, p.b)  →  p.a + p.b (length)
      sum(p.sizes, p.a)  →  p.sizes[1] + (p.sizes[2] + p.a) (length)
      sum(p.sizes, p.sizes, p.a)  →  (p.sizes[1] + p.sizes[2]) + (p.sizes[1] + (p.sizes[2] + p.a)) (length)
      sum(p.a)  →  p.a (length)
      mean(p.sizes)  →  (p.sizes[1] + p.sizes[2]) / 2 (length)
      mean(p.a)  →  p.a / 1 (length)
      min(p.sizes)  →  min(p.sizes[1], p.sizes[2]) (length)
      max(p.sizes, p.a)  →  max(p.sizes[1], p.sizes[2], p.a) (length)
      count(p.sizes)  →  2 (number)
      count(p.names)  →  2 (number)
      count(p.a, p.name)  →  2 (number)
      count(q.sizes)  →  0 (number)
      sum(q.sizes)  →  0 (number)
      sum(q.sizes) + p.a  →  0 + p.a (length)
      item(p.sizes, 1)  →  p.sizes[1] (length)
      item(p.sizes, p.n)  →  p.sizes[2] (length)
      item(p.sizes, p.k - p.n)  →  p.sizes[2] (length)
      item(p.sizes, p.k / p.n)  →  p.sizes[2] (length)
      item(p.sizes, p.n * 1)  →  p.sizes[2] (length)
      item(p.sizes, p.n ^ 1)  →  p.sizes[2] (length)
      item(p.sizes, -(-p.n))  →  p.sizes[2] (length)
      item(p.sizes, 3)  →  nothing
      item(p.sizes, x)  →  nothing
      stack(p.sizes, p.a, 0.1 in)  →  stack step {14 points}(p.a) (length)
      stack_count(p.sizes, p.a, 0.1 in)  →  stack_count step {8 points}(p.a) (number)
      loads(p.a)  →  table/no-row \`loads(p.a)\`
      loads(x * 1 mm)  →  loads linear {0:0 0.01:100}(slot 0 * 0.001) (mass)
      loads(4 mm)  →  40 (mass)
      loads(-(-q.a))  →  loads linear {0:0 0.01:100}(--q.a) (mass)
      loads(-(-4 mm))  →  40 (mass)
      loads(q.a + 4 mm)  →  loads linear {0:0 0.01:100}(q.a + 0.004) (mass)
      loads(0)  →  0 (mass)
      words(p.name)  →  1 (mass)
      words("a")  →  1 (mass)
      sum(each(pin).k)  →  q.k + p.k (number)
      count(each(pin))  →  2 (number)"
    `);
  });

  test("nothing where it is wrong or not there, and what is wrong is told", () => {
    expect(
      all(
        `p.a + p.w
         p.a - 1
         p.a + "x"
         p.a + p.name
         p.name + p.a
         p.a + p.sizes
         p.a + q
         p.a + nobody
         p.a + p.nothing
         p.a + p.a.b
         p.pin.a
         p.day
         p.good
         2026-03-14
         yes
         4x4
         [1 in, 2 in]
         p.sizes
         -p.name
         not p.good
         p.a and p.b
         p.a > p.b
         p.a ^ 0.5
         p.a ^ p.k
         p.a ^ 1 in
         p.a * p.name
         p.name / p.a
         p.name ^ 2
         2 ^ p.name
         3 inz
         3 in 4 kg
         3 in ± 1 in
         3 in..4 in
         if p.a > p.b then p.a else p.w
         if p.a then p.a else p.b
         if p.name then p.a else p.b
         if nobody > 1 then p.a else p.b
         abs()
         abs(p.a, p.b)
         abs("x")
         abs(q)
         sqrt(p.a)
         sin(p.a)
         exp(p.a)
         atan2(p.a)
         atan2(p.a, p.w)
         min()
         max(p.a, p.w)
         max(p.a, 0, p.w)
         round(p.a)
         round(p.a, p.w)
         round(p.a, 1 in, 1 in)
         hypot(p.a)
         p.sum(p.a)
         sum(p.names)
         sum(p.a, p.w)
         sum(p.a, p.nothing)
         mean(q.sizes)
         mean(p.names)
         max(q.sizes)
         count()
         sum()
         item()
         item(p.sizes)
         stack()
         stack_count(p.sizes)
         item(p.a, 1)
         item(p.sizes, "x")
         item(p.sizes, 1, 2)
         stack(p.sizes, p.a)
         stack(p.a, p.a, 1 in)
         stack(p.sizes, "x", 1 in)
         stack(p.sizes, p.a, "x")
         stack(p.sizes, p.a, 1 in, p.a)
         stack(p.sizes, p.a, 1 in, p.sizes, 1)
         stack(p.sizes, p.w, 1 in)
         stack(p.sizes, p.a, 1 kg)
         stack(q.sizes, p.a, 1 in)
         stack(p.sizes, p.a, q.a)
         loads()
         loads(p.sizes)
         loads("x")
         loads(p.w)
         loads(20 mm)
         loads.nothing(p.a)
         loads(p.a, p.a)
         loads(p.nothing)
         words(p.other_name)
         words("b")
         words(p.a)
         given()
         given(3)
         given(p.a, p.b)
         given(p.a)
         each(nobody)
         each(pins).a
         each(pin.a)
         each(pin, pin)
         each(pin).nothing
         sum(each(pin).name)`,
        formula,
      ),
    ).toMatchInlineSnapshot(`
      "p.a + p.w  →  unit/clash sides \`p.a + p.w\`
      p.a - 1  →  unit/clash sides \`p.a - 1\`
      p.a + "x"  →  value/not-a-number word \`"x"\`
      p.a + p.name  →  value/not-a-number word \`p.name\`
      p.name + p.a  →  value/not-a-number word \`p.name\`
      p.a + p.sizes  →  value/list several \`p.sizes\`
      p.a + q  →  value/thing-in-formula \`q\`
      p.a + nobody  →  name/unknown \`nobody\`
      p.a + p.nothing  →  name/unknown-field \`nothing\`
      p.a + p.a.b  →  name/unknown single \`b\`
      p.pin.a  →  nothing
      p.day  →  value/not-a-number word \`p.day\`
      p.good  →  value/not-a-number word \`p.good\`
      2026-03-14  →  value/not-a-number word \`2026-03-14\`
      yes  →  value/not-a-number word \`yes\`
      4x4  →  value/not-a-number word \`4x4\`
      [1 in, 2 in]  →  value/list several \`[1 in, 2 in]\`
      p.sizes  →  value/list several \`p.sizes\`
      -p.name  →  value/not-a-number word \`p.name\`
      not p.good  →  value/condition-in-formula \`not p.good\`
      p.a and p.b  →  value/condition-in-formula \`p.a and p.b\`
      p.a > p.b  →  value/condition-in-formula \`p.a > p.b\`
      p.a ^ 0.5  →  p.a ^ 0.5 (no measure)
      p.a ^ p.k  →  unit/clash power \`p.k\`
      p.a ^ 1 in  →  unit/clash exponent \`1 in\`
      p.a * p.name  →  value/not-a-number word \`p.name\`
      p.name / p.a  →  value/not-a-number word \`p.name\`
      p.name ^ 2  →  value/not-a-number word \`p.name\`
      2 ^ p.name  →  value/not-a-number word \`p.name\`
      3 inz  →  unit/unknown in-formula \`inz\`
      3 in 4 kg  →  unit/clash parts \`3 in 4 kg\`
      3 in ± 1 in  →  value/tolerance-in-formula \`3 in ± 1 in\`
      3 in..4 in  →  value/tolerance-in-formula \`3 in..4 in\`
      if p.a > p.b then p.a else p.w  →  unit/clash sides \`if p.a > p.b then p.a else p.w\`
      if p.a then p.a else p.b  →  value/not-a-condition \`p.a\`
      if p.name then p.a else p.b  →  value/not-a-condition \`p.name\`
      if nobody > 1 then p.a else p.b  →  name/unknown \`nobody\`
      abs()  →  value/arguments \`abs()\`
      abs(p.a, p.b)  →  value/arguments \`abs(p.a, p.b)\`
      abs("x")  →  value/not-a-number function \`abs("x")\`
      abs(q)  →  value/thing-in-formula \`q\`
      sqrt(p.a)  →  sqrt(p.a) (no measure)
      sin(p.a)  →  unit/clash argument \`sin(p.a)\`
      exp(p.a)  →  unit/clash argument \`exp(p.a)\`
      atan2(p.a)  →  value/arguments \`atan2(p.a)\`
      atan2(p.a, p.w)  →  unit/clash sides \`atan2(p.a, p.w)\`
      min()  →  value/arguments \`min()\`
      max(p.a, p.w)  →  unit/clash sides \`max(p.a, p.w)\`
      max(p.a, 0, p.w)  →  unit/clash sides \`max(p.a, 0, p.w)\`
      round(p.a)  →  value/arguments step \`round(p.a)\`
      round(p.a, p.w)  →  unit/clash sides \`round(p.a, p.w)\`
      round(p.a, 1 in, 1 in)  →  value/arguments \`round(p.a, 1 in, 1 in)\`
      hypot(p.a)  →  name/unknown-function \`hypot\`
      p.sum(p.a)  →  name/unknown-function \`p.sum\`
      sum(p.names)  →  value/not-a-number function \`sum(p.names)\`
      sum(p.a, p.w)  →  unit/clash sides \`sum(p.a, p.w)\`
      sum(p.a, p.nothing)  →  name/unknown-field \`nothing\`
      mean(q.sizes)  →  nothing
      mean(p.names)  →  value/not-a-number function \`mean(p.names)\`
      max(q.sizes)  →  nothing
      count()  →  0 (number)
      sum()  →  0 (number)
      item()  →  value/arguments item \`item()\`
      item(p.sizes)  →  value/arguments item \`item(p.sizes)\`
      stack()  →  value/arguments stack \`stack()\`
      stack_count(p.sizes)  →  value/arguments stack \`stack_count(p.sizes)\`
      item(p.a, 1)  →  value/arguments item \`item(p.a, 1)\`
      item(p.sizes, "x")  →  value/arguments item \`item(p.sizes, "x")\`
      item(p.sizes, 1, 2)  →  value/arguments item \`item(p.sizes, 1, 2)\`
      stack(p.sizes, p.a)  →  value/arguments stack \`stack(p.sizes, p.a)\`
      stack(p.a, p.a, 1 in)  →  value/arguments stack \`stack(p.a, p.a, 1 in)\`
      stack(p.sizes, "x", 1 in)  →  value/arguments stack \`stack(p.sizes, "x", 1 in)\`
      stack(p.sizes, p.a, "x")  →  value/arguments stack \`stack(p.sizes, p.a, "x")\`
      stack(p.sizes, p.a, 1 in, p.a)  →  value/arguments stack \`stack(p.sizes, p.a, 1 in, p.a)\`
      stack(p.sizes, p.a, 1 in, p.sizes, 1)  →  value/arguments stack \`stack(p.sizes, p.a, 1 in, p.sizes, 1)\`
      stack(p.sizes, p.w, 1 in)  →  unit/clash sides \`stack(p.sizes, p.w, 1 in)\`, unit/clash sides \`stack(p.sizes, p.w, 1 in)\`
      stack(p.sizes, p.a, 1 kg)  →  unit/clash sides \`stack(p.sizes, p.a, 1 kg)\`
      stack(q.sizes, p.a, 1 in)  →  nothing
      stack(p.sizes, p.a, q.a)  →  nothing
      loads()  →  table/use keys \`loads()\`
      loads(p.sizes)  →  value/list key \`p.sizes\`
      loads("x")  →  table/use measure \`loads("x")\`
      loads(p.w)  →  table/use measure \`loads(p.w)\`
      loads(20 mm)  →  table/no-row \`loads(20 mm)\`
      loads.nothing(p.a)  →  table/use columns \`loads.nothing(p.a)\`
      loads(p.a, p.a)  →  table/use keys \`loads(p.a, p.a)\`
      loads(p.nothing)  →  name/unknown-field \`nothing\`
      words(p.other_name)  →  nothing
      words("b")  →  table/no-row \`words("b")\`
      words(p.a)  →  table/use word \`words(p.a)\`
      given()  →  value/arguments given \`given()\`
      given(3)  →  value/arguments given \`given(3)\`
      given(p.a, p.b)  →  value/arguments given \`given(p.a, p.b)\`
      given(p.a)  →  value/not-a-number word \`given(p.a)\`
      each(nobody)  →  name/unknown-kind called \`nobody\`
      each(pins).a  →  name/unknown-kind called \`pins\`
      each(pin.a)  →  value/arguments each \`each(pin.a)\`
      each(pin, pin)  →  value/arguments each \`each(pin, pin)\`
      each(pin).nothing  →  name/unknown-field \`nothing\`, value/list several \`each(pin).nothing\`
      sum(each(pin).name)  →  nothing"
    `);
  });
});
