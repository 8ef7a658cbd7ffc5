// Loaded before a measured program: at its end, writes to file 3 the most memory that the process had, in kilobytes, and the
// processor time that all its threads have used, in microseconds.
const { writeSync } = process.getBuiltinModule('node:fs');
const { isMainThread } = process.getBuiltinModule('node:worker_threads');

// The threads of a program load this, too, and count as a part of it.
if (isMainThread)
  process.on('exit', () => {
    const { user, system } = process.cpuUsage();
    writeSync(3, `${process.resourceUsage().maxRSS} ${user + system}`);
  });
