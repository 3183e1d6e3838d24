/** Version of the JSON contract, apart from its schemas so that a run need not load them. */
export const schemaVersion = 1;
