/**
 * How much of a gap the givens' roundings and tolerances can explain.
 *
 * Must not know: what the gap means.
 */
import type { Sweep } from "./adjoint";
import type { Network } from "./network";

/** All givens at their worst, by their sensitivities. */
export function roomFor(network: Network, sweep: Sweep): number {
  let room = 0;
  for (const [variable, sensitivity] of sweep.byGiven) {
    const { given } = network.system.variables[variable]!;
    if (given === undefined) continue;
    room += Math.abs(sensitivity) * (given.rounding + (given.high - given.low) / 2);
  }
  return room;
}
