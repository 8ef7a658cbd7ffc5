import { codeOf } from '../disk/errorCode.ts';

/** Whether a process of this machine runs. */
export function isProcessRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // `EPERM`: the process exists, but belongs to another user.
    return codeOf(error) === 'EPERM';
  }
}
