/** Most hours that a question about practice and runs may be about: years of runs. */
export const mostHoursLeft = 10_000;
