import type { Command, Option } from '../terminal/command.ts';
import { helpTopics } from '../terminal/helpPage.ts';
import { optionsOf, ownOptions, shortHelp, takesValue } from './words.ts';

/**
 * The completion script for zsh: a file `_routewright` for a folder of fpath, which can also be sourced after compinit.
 *
 * @param commands every command that exists
 */
export function zshScript(commands: readonly Command[]): string {
  const described = commands.map(({ name, summary }) => `      ${quote(`${name}:${summary}`)}`);
  const cases = commands.map((command) => {
    const specs = [...optionsOf(command).map(optionSpec), ...operandSpecs(command)];
    return [
      `    ${command.name})`,
      `      _arguments \\`,
      specs.map((spec) => `        ${spec}`).join(' \\\n'),
      '      ;;',
    ].join('\n');
  });
  const own = ownOptions.map(([name, help]) => `    ${quote(`(- *)${name}[${help}]`)} \\`);
  return `#compdef routewright
# Completion of routewright for zsh. Written by: routewright completion zsh

# Ids of the routes in the current folder: the kind, then what follows an id in a value.
_routewright_ids() {
  local -a ids suffix
  ids=(\${(f)"$(_call_program routewright-ids \${(q)routewright_program} completion --ids $1 2>/dev/null)"})
  [[ -n $2 ]] && suffix=(-S $2)
  compadd $suffix -- $ids
}

_routewright_techniques_or_files() {
  _alternative 'techniques:technique: _routewright_ids technique' 'files:file:_files'
}

_routewright_help() {
  _alternative 'commands:command:_routewright_commands' 'topics:topic:(${helpTopics.join(' ')})'
}

_routewright_commands() {
  local -a commands=(
${described.join('\n')}
  )
  _describe command commands
}

_routewright() {
  local curcontext=$curcontext context state line routewright_program=$words[1]
  typeset -A opt_args
  _arguments -C \\
${own.join('\n')}
    '1:command:_routewright_commands' \\
    '*::argument:->argument'
  [[ $state == argument ]] || return
  case $line[1] in
${cases.join('\n')}
    help)
      _arguments '1:command:_routewright_help'
      ;;
  esac
}

if [[ $funcstack[1] == _routewright ]]; then
  _routewright "$@"
else
  compdef _routewright routewright
fi
`;
}

/** One word that says how an option is completed. */
function optionSpec(option: Option): string {
  const { name, repeatable, value } = option;
  const label = `--${name}${takesValue(option) ? '=' : ''}[${shortHelp(option).replace(/[[\]\\]/g, '\\$&')}]`;
  const spec = `${repeatable ? '*' : ''}${label}`;
  return quote(takesValue(option) ? `${spec}:${value!.replace(/:/g, '\\:')}:${valueAction(option)}` : spec);
}

function valueAction({ oneOf, completes, separator }: Option): string {
  if (oneOf) return `(${oneOf.join(' ')})`;
  switch (completes) {
    case 'technique':
    case 'segment':
    case 'key':
      return ` _routewright_ids ${completes}${separator === undefined ? '' : ` ${separator === ':' ? '\\:' : separator}`}`;
    case 'folder':
      return '_files -/';
    case 'file':
      return '_files';
    case undefined:
      return '';
  }
}

function operandSpecs({ completes, operandOneOf }: Command): string[] {
  if (operandOneOf) {
    const words = operandOneOf.join(' ');
    if (!completes.includes('file')) return [quote(`1:word:(${words})`)];
    return [quote(`1:word or file:{compadd -- ${words}; _files}`), quote('*:file:_files')];
  }
  if (completes.includes('technique')) return [quote('*:technique or file:_routewright_techniques_or_files')];
  if (completes.includes('key')) return [quote('1:key: _routewright_ids key')];
  if (completes.includes('file')) return [quote('*:file:_files')];
  return completes.includes('folder') ? [quote('1:folder:_files -/')] : [];
}

function quote(text: string): string {
  return `'${text.replace(/'/g, `'\\''`)}'`;
}
