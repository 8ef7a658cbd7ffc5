// Loaded into the editor host's server before its own code. The server's standard input is a pipe held by the process
// that started it. When that process ends in any way, even by SIGKILL, the pipe closes. Then the server and all
// processes that it started (one process group) end too.
if (/server-main\.js$/.test(process.argv[1] ?? '')) {
  const end = () => process.kill(-process.pid, 'SIGKILL');
  process.stdin.on('end', end).on('error', end).resume();
}
