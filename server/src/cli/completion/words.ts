import { type Command, commonOptions, type Option } from '../terminal/command.ts';

/** The options of `routewright` itself, each with its help. */
export const ownOptions: readonly (readonly [name: string, help: string])[] = [
  ['--help', 'Print what there is'],
  ['--version', 'Print the version'],
];

/** All options of a command. */
export function optionsOf({ options }: Command): readonly Option[] {
  return [...options, ...commonOptions];
}

/** Whether a value must follow as a separate word; a value that may be left out is not completed. */
export function takesValue({ value, optionalNumber }: Option): boolean {
  return value !== undefined && !optionalNumber;
}

/** The first sentence of an option's help, for the list that a shell shows. */
export function shortHelp({ help }: Option): string {
  return help.split(/[.] (?=[A-Z])/)[0]!.replace(/[.]$/, '');
}
