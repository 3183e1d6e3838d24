/**
 * Tests that hold something to a time are not about that while sources are being changed bit by bit,
 * slowed by what counts their calls: a twentieth of the processor's time passes. What is drawn is the
 * same each time, so that a change is noticed or not by itself.
 */
import fc from "fast-check";

performance.now = () => process.cpuUsage().user / 1000 / 20;
fc.configureGlobal({ seed: 20 });
