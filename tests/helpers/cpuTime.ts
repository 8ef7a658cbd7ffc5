import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { platform } from 'node:process';

/** Linux counts processor time in hundredths of a second. */
const ticksPerSecond = 100;

/** Milliseconds of processor time that another process has used so far; NaN where it has ended. */
export function cpuTimeOf(pid: number): number {
  try {
    return platform === 'linux' ? fromProc(pid) : fromPs(pid);
  } catch {
    return NaN;
  }
}

function fromProc(pid: number): number {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
  // The name of the program, in brackets, may contain anything.
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return ((Number(fields[11]) + Number(fields[12])) * 1000) / ticksPerSecond;
}

/** `ps` writes `mm:ss.cc` or `hh:mm:ss`. */
function fromPs(pid: number): number {
  const written = execFileSync('ps', ['-o', 'time=', '-p', String(pid)], { encoding: 'utf8' }).trim();
  return written.split(':').reduce((sum, part) => sum * 60 + Number(part), 0) * 1000;
}
