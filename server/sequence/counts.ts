/** Counts what is made anew of the order of work, for tests and for measuring. */
export const counts = { orders: 0, steps: 0, joints: 0, records: 0, histories: 0 };
