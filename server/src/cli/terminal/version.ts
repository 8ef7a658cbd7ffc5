import manifest from '../../../package.json' with { type: 'json' };

/** Version of the package that the command line comes in. */
export const version: string = manifest.version;
