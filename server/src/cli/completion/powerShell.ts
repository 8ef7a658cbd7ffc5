import type { Command } from '../terminal/command.ts';
import { helpTopics } from '../terminal/helpPage.ts';
import { optionsOf, ownOptions, shortHelp, takesValue } from './words.ts';

/**
 * The completion script for PowerShell 5.1 and later: an argument completer of a native command, as the documentation
 * of Register-ArgumentCompleter describes it. Where it gives no answer, PowerShell completes file names itself.
 *
 * @param commands every command that exists
 */
export function powerShellScript(commands: readonly Command[]): string {
  const names = commands.map(({ name }) => name);
  const options = commands.map(
    (command) =>
      `        ${quote(command.name)} = [ordered]@{\n${optionsOf(command)
        .map((option) => `            ${quote(`--${option.name}`)} = ${quote(shortHelp(option))}`)
        .join('\n')}\n        }`,
  );
  const values = commands.flatMap(({ name, options: all, operandOneOf }) => [
    ...(operandOneOf ? [`        ${quote(name)} = ${list(operandOneOf)}`] : []),
    ...all.flatMap((option) =>
      option.oneOf ? [`        ${quote(`${name} --${option.name}`)} = ${list(option.oneOf)}`] : [],
    ),
  ]);
  const ids = commands.flatMap(({ name, options: all, completes }) => [
    ...(completes.includes('technique') ? [idRow(name, 'technique')] : []),
    ...(completes.includes('key') ? [idRow(name, 'key')] : []),
    ...all.flatMap((option) =>
      takesValue(option) && (option.completes === 'technique' || option.completes === 'segment')
        ? [idRow(`${name} --${option.name}`, option.completes, option.separator)]
        : [],
    ),
  ]);
  return `# Completion of routewright for PowerShell. Written by: routewright completion powershell
Register-ArgumentCompleter -Native -CommandName routewright -ScriptBlock {
    param($wordToComplete, $commandAst, $cursorPosition)

    $commands = [ordered]@{
${commands.map(({ name, summary }) => `        ${quote(name)} = ${quote(summary)}`).join('\n')}
    }
    $ownOptions = [ordered]@{
${ownOptions.map(([name, help]) => `        ${quote(name)} = ${quote(help)}`).join('\n')}
    }
    $options = @{
${options.join('\n')}
    }
    # By a command, or by a command and an option: the words that may follow, and the kind of id with what follows it.
    $values = @{
${[...values, `        'help' = ${list([...names, ...helpTopics])}`].join('\n')}
    }
    $ids = @{
${ids.join('\n')}
    }

    # The words before the one that is completed.
    $words = @($commandAst.CommandElements |
        Where-Object { $_.Extent.EndOffset -lt $cursorPosition } |
        ForEach-Object { $_.ToString() })
    $result = {
        param($text, $type, $help)
        [System.Management.Automation.CompletionResult]::new($text, $text, $type, $help)
    }
    $offer = [System.Collections.Generic.List[object]]::new()
    if ($words.Count -le 1) {
        foreach ($entry in $commands.GetEnumerator()) { $offer.Add((& $result $entry.Key 'Command' $entry.Value)) }
        foreach ($entry in $ownOptions.GetEnumerator()) { $offer.Add((& $result $entry.Key 'ParameterName' $entry.Value)) }
    } else {
        $command = $words[1]
        $place = "$command $($words[-1])"
        if (-not ($values.ContainsKey($place) -or $ids.ContainsKey($place))) {
            $place = $command
        }
        if ($place -eq $command -and $wordToComplete -like '-*') {
            if ($options.ContainsKey($command)) {
                foreach ($entry in $options[$command].GetEnumerator()) { $offer.Add((& $result $entry.Key 'ParameterName' $entry.Value)) }
            }
        } elseif ($values.ContainsKey($place)) {
            foreach ($word in $values[$place]) { $offer.Add((& $result $word 'ParameterValue' $word)) }
        } elseif ($ids.ContainsKey($place)) {
            $kind, $separator = $ids[$place]
            foreach ($id in @(& $words[0] completion --ids $kind 2>$null)) {
                $offer.Add((& $result "$id$separator" 'ParameterValue' $id))
            }
        }
    }
    $offer | Where-Object { $_.CompletionText -like "$wordToComplete*" }
}
`;
}

function idRow(place: string, kind: string, separator = ''): string {
  return `        ${quote(place)} = ${list([kind, separator])}`;
}

function list(words: readonly string[]): string {
  return `@(${words.map(quote).join(', ')})`;
}

function quote(text: string): string {
  return `'${text.replace(/'/g, "''")}'`;
}
