/**
 * Runs in the page: names of texts that meet, and of lines that run through a text not theirs.
 */
Object.assign(globalThis, { meetings });

function meetings(): string[] {
  const own = (element: Element) => element.closest(".dimension, .note") ?? element;
  const texts = [...document.querySelectorAll("svg text")].map((element) => ({
    words: element.textContent ?? "",
    owner: own(element),
    box: element.getBoundingClientRect(),
  }));
  const found: string[] = [];
  for (const [index, one] of texts.entries())
    for (const other of texts.slice(index + 1)) {
      if (one.owner === other.owner && one.owner.matches(".dimension, .note")) continue;
      const across =
        Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
      const down =
        Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
      // A box of letters is taller than its letters: by their height they may stand closer.
      const tall = Math.min(one.box.height, other.box.height);
      if (across > 0.5 && down > tall * 0.3) found.push(`${one.words} on ${other.words}`);
    }
  const lines = [
    ...document.querySelectorAll("line.measure, line.run, line.extension, path.leader"),
  ];
  for (const line of lines) {
    const shape = line as SVGGeometryElement;
    const length = shape.getTotalLength();
    const matrix = shape.getScreenCTM();
    for (const { words, owner, box } of texts) {
      if (own(line) === owner || matrix === null) continue;
      const inset = box.height * 0.25;
      for (let at = 0; at <= length; at += 0.5) {
        const point = shape.getPointAtLength(at).matrixTransform(matrix);
        const inside =
          point.x > box.left + 0.5 &&
          point.x < box.right - 0.5 &&
          point.y > box.top + inset &&
          point.y < box.bottom - inset;
        if (!inside) continue;
        found.push(`a line of ${own(line).textContent} through ${words}`);
        break;
      }
    }
  }
  return found;
}
