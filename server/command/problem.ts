/** Wrong usage or unreadable input: its message goes to the person, and the command ends with 2. */
export class CommandProblem extends Error {}

/** Exit codes, the same for every verb. */
export const exit = { clean: 0, findings: 1, unusable: 2 } as const;
