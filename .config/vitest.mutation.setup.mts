/**
 * Tests that hold something to a time are not about that while sources are being changed bit by bit,
 * slowed by what counts their calls: a twentieth of the processor's time passes.
 */
performance.now = () => process.cpuUsage().user / 1000 / 20;
