import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import Ajv from 'ajv';
import { expect, test } from 'vitest';
import { folderOf, practice, route, routewright } from './place.ts';

// S: the JSON Schema of SARIF 2.1.0 published by OASIS, as carried by an npm package.
const schemaFile = createRequire(import.meta.url).resolve(
  '@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json',
);

function validator() {
  const schema = JSON.parse(readFileSync(schemaFile, 'utf8')) as Record<string, unknown>;
  // It is written for draft-04; of what changed since, it uses the name of its own address only.
  delete schema.$schema;
  delete schema.id;
  return new Ajv({ strict: false, validateFormats: false, unicodeRegExp: false }).compile(schema);
}

interface Place {
  physicalLocation: { artifactLocation: { uri: string }; region: Record<string, number> };
}
interface Log {
  runs: {
    columnKind: string;
    tool: { driver: { rules: { id: string; shortDescription: { text: string } }[] } };
    results: {
      ruleId: string;
      ruleIndex: number;
      level: string;
      message: { text: string };
      locations: Place[];
      relatedLocations?: Place[];
      fixes?: { artifactChanges: { replacements: { insertedContent: { text: string } }[] }[] }[];
    }[];
  }[];
}

test('check --sarif is a SARIF 2.1.0 log with places from 1, rules and fixes', async () => {
  const folder = folderOf({
    'my routes/a#1.route.yaml': route.replace('[wall-kick]', '[wall-kick, wall-kick, crate-valt]'),
    'my routes/a#1.practice.yaml': practice.replace('lanternfall', 'a#1').replace('2026-10-05', '2026-10-07'),
  });
  const { out, code } = await routewright(folder, ['check', '--sarif']);
  expect(code).toBe(1);
  const log = JSON.parse(out) as Log;
  const validate = validator();
  expect(validate(log), JSON.stringify(validate.errors)).toBe(true);

  const [run] = log.runs;
  expect(run!.columnKind).toBe('utf16CodeUnits');
  for (const { ruleId, ruleIndex } of run!.results)
    expect(run!.tool.driver.rules[ruleIndex]!.id).toBe(ruleId);
  const unknown = run!.results.find(({ ruleId }) => ruleId === 'unknown-technique')!;
  const line = route.split('\n')[4]!.replace('[wall-kick]', '[wall-kick, wall-kick, crate-valt]');
  const column = line.indexOf('crate-valt') + 1;
  expect(unknown).toMatchObject({
    level: 'error',
    locations: [
      {
        physicalLocation: {
          artifactLocation: { uri: 'my%20routes/a%231.route.yaml' },
          region: { startLine: 5, startColumn: column, endLine: 5, endColumn: column + 'crate-valt'.length },
        },
      },
    ],
    fixes: [{ artifactChanges: [{ replacements: [{ insertedContent: { text: 'crate-vault' } }] }] }],
  });
  const twice = run!.results.find(({ ruleId }) => ruleId === 'duplicate-use')!;
  expect(twice.relatedLocations).toHaveLength(1);
});

test('a SARIF log that is none is seen by the schema used here', () => {
  expect(validator()({ version: '2.1.0', runs: [{ results: [] }] })).toBe(false);
});
