/**
 * Version of the curves that the numbers of a pool belong to. It is raised when their grid, their prior or the meaning
 * of a number changes: pools of another version are not read.
 */
export const poolVersion = 1;
