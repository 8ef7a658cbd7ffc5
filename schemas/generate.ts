/**
 * Writes server/src/generated/ from the schemas: TypeScript types, validators compiled ahead of time
 * (so that nothing is compiled or evaluated at start-up) and the schemas themselves for hover and completion.
 *
 * Run by `npm run generate`.
 */
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { compile } from 'json-schema-to-typescript';

const here = import.meta.dirname;
const out = join(here, '../server/src/generated');
const names = ['common', 'route', 'practice', 'runs', 'week', 'pool'] as const;

/** Exported validator → the schema it checks. Entities have one each: they are read and checked on their own. */
const validators = {
  route: 'route.schema.json',
  segment: 'route.schema.json#/definitions/segment',
  technique: 'route.schema.json#/definitions/technique',
  practice: 'practice.schema.json',
  session: 'practice.schema.json#/definitions/session',
  runs: 'runs.schema.json',
  run: 'runs.schema.json#/definitions/run',
  week: 'week.schema.json',
  pool: 'pool.schema.json',
  pooled: 'pool.schema.json#/definitions/technique',
};

const banner = '// Generated from schemas/ by `npm run generate`. Do not edit.\n';
const base = 'https://routewright.invalid/schemas/';
const schemas = new Map<string, object>();
for (const name of names) {
  schemas.set(name, JSON.parse(await readFile(join(here, `${name}.schema.json`), 'utf8')) as object);
}
await mkdir(out, { recursive: true });

const ajv = new Ajv({
  allErrors: true,
  allowUnionTypes: true,
  allowMatchingProperties: true,
  strictTypes: false, // with a union of types, a keyword applies to the types that it fits, as intended
  unicode: false, // string lengths by UTF-16 unit: keeps the output free of a runtime import
  logger: false, // says only that `unicode` is deprecated
  schemas: [...schemas.values()],
  code: { source: true, esm: true, lines: false },
});
const refs = Object.fromEntries(Object.entries(validators).map(([name, ref]) => [name, base + ref]));
// ajv and its standalone entry are CommonJS: the function may sit one `default` deeper.
const generate = (
  typeof standaloneCode === 'function'
    ? standaloneCode
    : (standaloneCode as { default: typeof standaloneCode }).default
) as (ajv: Ajv, refs: Record<string, string>) => string;
await writeFile(join(out, 'validators.js'), banner + generate(ajv, refs));
await writeFile(
  join(out, 'validators.d.ts'),
  `${banner}import type { ErrorObject } from 'ajv';
export interface Validator {
  (data: unknown): boolean;
  errors?: ErrorObject[] | null;
}
${Object.keys(validators)
  .map((name) => `export declare const ${name}: Validator;`)
  .join('\n')}
`,
);

await writeFile(
  join(out, 'schemas.ts'),
  `${banner}/** The schemas as published, by name. */
export const schemas = ${JSON.stringify(Object.fromEntries(schemas), null, 1)} as const;
`,
);

let types = banner;
for (const name of names.slice(1)) {
  const title = `${name[0]!.toUpperCase()}${name.slice(1)}`;
  const code = await compile(structuredClone(schemas.get(name)!), `${title}File`, {
    cwd: here + '/',
    bannerComment: '',
    format: false,
    additionalProperties: false,
    $refOptions: {
      resolve: {
        local: {
          order: 1,
          canRead: (file: { url: string }) => file.url.includes('.schema.json'),
          read: (file: { url: string }) => readFile(join(here, file.url.split('/').pop()!), 'utf8'),
        },
      },
    },
  });
  // One namespace a file kind: shared definitions are written out again in each.
  types += `export namespace ${title} {\n${code}\n}\n`;
}
await writeFile(join(out, 'types.ts'), types);
