import { existsSync, readFileSync } from 'node:fs';

/** Ticks of the kernel's clock in a second, the same on every usual Linux. */
const ticksPerSecond = 100;

/**
 * Seconds of processor time that a process has used so far; 0 where the system does not say. Unlike the time on the
 * clock it does not depend on what else the computer does.
 *
 * Fields 14 and 15 of /proc/PID/stat, as the manual page proc(5) has them.
 */
export function processorSeconds(pid: number): number {
  const file = `/proc/${pid}/stat`;
  if (!existsSync(file)) return 0;
  const stat = readFileSync(file, 'utf8');
  // The second field, the program's name, may hold blanks: count from its closing bracket.
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return (Number(fields[11]) + Number(fields[12])) / ticksPerSecond;
}
