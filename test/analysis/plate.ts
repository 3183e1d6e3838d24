/** A small kind with relations, a check and usual ranges, for golden texts. */
const plate = `kind plate "Plate" {
  width: length bought range 1 mm..10 m needs "measure across the plate"
  height: length bought range 1 mm..10 m
  depth: length measured range 1 mm..10 m
  half: length
  surface: area
  root: length range 1 mm..10 m
  share: number
  relation "half": half = width / 2
  relation "surface": surface = width * height
  relation "root": root = sqrt(depth * (height - width))
  relation "share": share = depth / (height - width)
  check "the plate is high enough": height >= width
    code "plate/height"
    advise "cut a higher plate"
    caution "a low plate tips over"
}
`;

/** The kinds stand in a file of their own, so that lines count from the text at hand. */
export const withPlate = (text: string): string =>
  `//- build.trammel\nuse "plate.trammel"\n${text}\n//- plate.trammel\n${plate}`;
