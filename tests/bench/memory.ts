import { readFileSync } from 'node:fs';
import { setTimeout as sleep } from 'node:timers/promises';

/** Resident memory of a process in MB (2^20 bytes): now, and the highest value so far. */
export interface Memory {
  readonly now: number;
  readonly highest: number;
}

/** Reads a process's memory on Linux; undefined on other systems. */
export function memoryOf(pid: number): Memory | undefined {
  const status = readProc(pid, 'status');
  const field = (name: string): number | undefined => {
    const kilobytes = new RegExp(`^${name}:\\s+(\\d+) kB$`, 'm').exec(status ?? '')?.[1];
    return kilobytes === undefined ? undefined : Number(kilobytes) / 1024;
  };
  const now = field('VmRSS');
  const highest = field('VmHWM');
  return now === undefined || highest === undefined ? undefined : { now, highest };
}

/**
 * A process that did nothing for so many milliseconds counts as idle: longer than the delays that the servers are known
 * to have.
 */
const pauseMs = 400;
const mostPauses = 75;

/**
 * Waits until a process is idle, so that its delayed work does not slow the next measurement. Where the system does not
 * show that, waits for one pause.
 */
export async function waitUntilIdle(pid: number): Promise<void> {
  for (let before = cpuTicks(pid), pause = 0; pause < mostPauses; pause += 1) {
    await sleep(pauseMs);
    const ticks = cpuTicks(pid);
    // The runtime's own maintenance may use a tick (10 ms) now and then.
    if (ticks === undefined || before === undefined || ticks - before <= 1) return;
    before = ticks;
  }
}

/** Processor time of a process so far, in the kernel's ticks (1/100 s): fields 14 and 15 of /proc/PID/stat. */
function cpuTicks(pid: number): number | undefined {
  const stat = readProc(pid, 'stat');
  // The second field, the program's name, may hold blanks: count from its closing bracket.
  const fields = stat?.slice(stat.lastIndexOf(')') + 2).split(' ');
  return fields && Number(fields[11]) + Number(fields[12]);
}

function readProc(pid: number, file: string): string | undefined {
  try {
    return readFileSync(`/proc/${pid}/${file}`, 'utf8');
  } catch {
    return undefined;
  }
}
