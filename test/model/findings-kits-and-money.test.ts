/** Golden texts: one kit for several figures, amounts in two currencies, values inside advice. */
import { expect, test } from "vitest";
import { analyzed } from "./build";
import { golden } from "./golden";

const kinds = `kind tray { sizes: list of length  quantities: list of count }
kind gauge {
  tray: tray
  wanted: length
  pack: length
  relation "pack": pack = stack(tray.sizes, wanted, 0.002 in, tray.quantities)
}
`;

test("one kit serves several: what each gets is told", () => {
  const text = `${kinds}tray t { sizes: [0.004 in, 0.007 in, 0.012 in, 0.018 in]  quantities: [2, 2, 1, 1] }
gauge one { tray: t  wanted: 0.026 in }
`;
  const analysis = analyzed(text);
  expect(analysis.valueAt("one.pack")?.pieces).toBe("0.018 in + 0.007 in");
  expect(analysis.valueAt("one.pack")?.si).toBeCloseTo(0.025 * 0.0254, 12);
  expect(golden(text)).toBe("");
});

test("a kit that has to be shared, and one that is too small", () => {
  const shared = `${kinds}tray t { sizes: [0.010 in, 0.021 in]  quantities: [2, 1] }
gauge one { tray: t  wanted: 0.020 in }
gauge two { tray: t  wanted: 0.021 in }
`;
  expect(golden(shared)).toMatchInlineSnapshot(`
    "9:1 note kit/shared \`gauge one \`
      one.pack: take 0.010 in + 0.010 in instead, so that t.sizes serves two.pack too
      hint the sum differs from the stack this one would get alone"
  `);
  const short = `${kinds}tray t { sizes: [0.010 in]  quantities: [1] }
gauge one { tray: t  wanted: 0.010 in }
gauge two { tray: t  wanted: 0.010 in }
`;
  expect(golden(short)).toMatchInlineSnapshot(`
    "10:1 warning kit/short \`gauge two \`
      two.pack: t.sizes does not hold enough pieces for all: none is the nearest left, 0.010 in short
      hint add the missing sizes to the kit, or allow more to be left over"
  `);
});

test("two currencies in one build", () => {
  expect(
    golden(`wheel w { price: 200 usd }
tire t { price: 180 eur }
bill b { items: [w, t] }`),
  ).toMatchInlineSnapshot(`
    "2:17 error unit/two-currencies \`180 eur\`
      t.price is in EUR, w.price in USD: a build is reckoned in one currency
      hint write all amounts in the same currency, at the rate you pay
      see 1:18 w.price is given here"
  `);
});

test("advice holds the figure itself", () => {
  expect(
    golden(`kind bar {
  width: length
  wanted: length
  relation "wanted": wanted = width / 2
  check "short enough": width <= 10 mm
    code "bar/width"
    advise "make it {wanted} wide"
}
bar b { width: 30 mm }`),
  ).toMatchInlineSnapshot(`
    "9:16 error bar/width \`30 mm\`
      b: does not hold: short enough (width is 30 mm, at most 10 mm is wanted: 20 mm over)
      hint make it 15 mm wide"
  `);
});
