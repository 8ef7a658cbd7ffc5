import type { Command, Option } from '../terminal/command.ts';
import { helpTopics } from '../terminal/helpPage.ts';
import { optionsOf, ownOptions, takesValue } from './words.ts';

/**
 * The completion script for bash 3.2 and later; it needs no other package. Where the function gives no answer, bash
 * itself completes file names.
 *
 * @param commands every command that exists
 */
export function bashScript(commands: readonly Command[]): string {
  const names = commands.map(({ name }) => name);
  const values = commands.flatMap((command) =>
    command.options
      .filter(takesValue)
      .map((option) => `    '${command.name} --${option.name}') ${valueAction(option)} ;;`),
  );
  const options = commands.map(
    (command) =>
      `          ${command.name}) words='${optionsOf(command)
        .map(({ name }) => `--${name}`)
        .join(' ')}' ;;`,
  );
  const operands = commands.map((command) => `          ${command.name}) ${operandAction(command)} ;;`);
  return `# Completion of routewright for bash. Written by: routewright completion bash
_routewright() {
  local program=$1 current=\${COMP_WORDS[COMP_CWORD]} previous=\${COMP_WORDS[COMP_CWORD-1]} command=\${COMP_WORDS[1]}
  local words='' ids='' separator='' IFS=$' \\t\\n'
  COMPREPLY=()
  # bash splits --option=value into three words.
  if [[ $current == '=' ]]; then
    current=''
  elif [[ $previous == '=' && $COMP_CWORD -ge 2 ]]; then
    previous=\${COMP_WORDS[COMP_CWORD-2]}
  fi
  if [[ $COMP_CWORD -eq 1 ]]; then
    command=''
    words='${[...names, ...ownOptions.map(([name]) => name)].join(' ')}'
  fi
  case "$command $previous" in
${values.join('\n')}
    *)
      if [[ $current == -* ]]; then
        case $command in
${options.join('\n')}
        esac
      else
        case $command in
${operands.join('\n')}
          help) words='${[...names, ...helpTopics].join(' ')}' ;;
        esac
      fi
      ;;
  esac
  # An id has letters, digits and hyphens only, so that nothing in it is expanded here.
  if [[ -n $ids ]]; then words=$("$program" completion --ids "$ids" 2>/dev/null); fi
  COMPREPLY=($(compgen -W "$words" -- "$current"))
  if [[ -n $separator && \${#COMPREPLY[@]} -gt 0 ]]; then
    COMPREPLY=("\${COMPREPLY[@]/%/$separator}")
    compopt -o nospace 2>/dev/null
  fi
}
complete -o default -F _routewright routewright
`;
}

/** The shell code that completes the value of an option. */
function valueAction({ oneOf, completes, separator }: Option): string {
  if (oneOf) return `words='${oneOf.join(' ')}'`;
  switch (completes) {
    case 'technique':
    case 'segment':
    case 'key':
      return `ids=${completes}${separator === undefined ? '' : ` separator='${separator}'`}`;
    case 'folder':
      return 'compopt -o dirnames 2>/dev/null';
    case 'file':
      return ': file names';
    case undefined:
      return 'compopt +o default 2>/dev/null';
  }
}

/** The shell code that completes an operand. */
function operandAction({ completes, operandOneOf }: Command): string {
  if (operandOneOf) {
    const words = `words='${operandOneOf.join(' ')}'`;
    // Where a file may be meant as well, bash completes one that no word begins like.
    return completes.includes('file') ? words : `${words}; compopt +o default 2>/dev/null`;
  }
  if (completes.includes('technique')) return 'ids=technique';
  if (completes.includes('key')) return 'ids=key; compopt +o default 2>/dev/null';
  if (completes.includes('file')) return ': file names';
  return `compopt +o default${completes.includes('folder') ? ' -o dirnames' : ''} 2>/dev/null`;
}
