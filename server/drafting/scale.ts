/**
 * Scales of drawings, and how large a thing comes out on paper.
 *
 *     scaleFor([1900, 720], [230, 90])   →   { paper: 0.1, text: "1:10" }
 *
 * ISO 5455 (from memory): full size 1:1; reductions and enlargements by 2, 5, 10 and their tenfold.
 */

export interface Scale {
  /** Millimeters on paper for a millimeter of the part. */
  readonly paper: number;
  /** `1:5` */
  readonly text: string;
}

const steps = [1, 2, 5];

export const fullSize: Scale = { paper: 1, text: "1:1" };

/** The largest scale at which width and height (mm) stay within the room (mm on paper). */
export function scaleFor(
  [width, height]: readonly [number, number],
  [roomWide, roomHigh]: readonly [number, number],
): Scale {
  const most = Math.min(roomWide / Math.max(width, 1e-6), roomHigh / Math.max(height, 1e-6));
  for (let power = 1; power >= -5; power--) {
    for (const step of power > 0 ? [5, 2] : steps) {
      const paper = power > 0 ? step : 10 ** power / step;
      if (paper <= most) return scaleOf(paper);
    }
  }
  return scaleOf(1e-6);
}

// ───────────────────────────── helpers ─────────────────────────────

function scaleOf(paper: number): Scale {
  const text = paper >= 1 ? `${Math.round(paper)}:1` : `1:${Math.round(1 / paper)}`;
  return { paper, text };
}
