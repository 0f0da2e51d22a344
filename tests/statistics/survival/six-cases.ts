/** The six cases of the worked examples: events on days 1, 3, 3 and 6, censored on days 3 and 5. */
export const sixCases = { timeDays: [3, 1, 5, 3, 6, 3], event: [1, 1, 0, 0, 1, 1] };

/** Four cases to compare them with: events on days 2 and 4, censored on days 4 and 5. */
export const fourCases = { timeDays: [2, 4, 4, 5], event: [1, 1, 0, 0] };
