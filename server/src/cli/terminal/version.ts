import manifest from '../../../package.json' with { type: 'json' };

/** Version of the package that contains the command line. */
export const version: string = manifest.version;
