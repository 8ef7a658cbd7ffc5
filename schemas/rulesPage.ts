import { findingDocs, type FindingDoc } from '../server/src/rules/findingDocs.ts';
import type { Finding } from '../server/src/rules/engine/findings.ts';
import { exampleFiles, exampleRoute } from '../server/src/rules/engine/exampleFiles.ts';
import type { Example } from '../server/src/rules/engine/rule.ts';
import { adjustableCodes } from '../server/src/rules/severities.ts';
import { findingsIn } from './exampleFindings.ts';

/** The page of all rules and findings, as Markdown. The findings that it shows come from checking the examples. */
export async function rulesPage(): Promise<string> {
  const all = findingDocs();
  const found = new Map<string, Finding | undefined>();
  for (const { code, page } of all) found.set(code, await firstFinding(code, page.failing, page.today));
  const rows = all.map(
    ({ code, severity, title }) =>
      `| [\`${code}\`](#${code}) | ${severity} | ${title} | ${found.get(code)?.fix ? 'yes' : 'no'} |`,
  );
  return [
    '# What is found',
    '',
    '<!-- Written by `npm run rules` from the rules themselves. Do not edit. -->',
    '',
    `${all.length} codes: ${all.filter(({ by }) => by === 'reading').length} for text that cannot be read, the others for what a route, its logs, the week and the pool say. An error means that something is not counted; a warning, that a number is most likely wrong or time is lost; a hint, that another way may serve better. Codes stay as they are.`,
    '',
    'Where a finding is meant as it is, `# allow CODE: reason` on its line or above it lets it stand, and `# allow CODE in this file: reason` all of a file. The setting `routewright.rules` gives a code another severity in the editor or turns it off; errors of reading stay what they are.',
    '',
    '| Code | Severity | What it finds | Fix |',
    '| --- | --- | --- | --- |',
    ...rows,
    '',
    'The examples leave out the first lines that every file has: `game` and `category` in a route, `route` in the others. Where an example has no route, it belongs to this one:',
    '',
    fenced(exampleRoute),
    '',
    ...all.flatMap((one) => section(one, found.get(one.code))),
  ].join('\n');
}

/** What the setting of severities allows: codes as keys, and for each a severity or `off`. */
export function rulesSetting(): object {
  const codes = findingDocs().filter(({ code }) => adjustableCodes.has(code));
  return {
    propertyNames: {
      enum: codes.map(({ code }) => code),
      enumDescriptions: codes.map(({ title, severity }) => `${title} Left out: ${severity}.`),
    },
    additionalProperties: { type: 'string', enum: ['off', 'hint', 'warning', 'error'] },
  };
}

async function firstFinding(
  code: string,
  failing: Example | undefined,
  today: string | undefined,
): Promise<Finding | undefined> {
  if (!failing) return undefined;
  const findings = await findingsIn(exampleFiles(failing), today);
  const ours = findings.filter((finding) => finding.code === code);
  return ours.find(({ fix }) => fix) ?? ours[0];
}

function section({ code, severity, title, page }: FindingDoc, finding: Finding | undefined): string[] {
  const { why, way, failing, passing } = page;
  return [
    `## ${code}`,
    '',
    `${title} (${severity})`,
    '',
    why,
    '',
    `**What to do.** ${way}`,
    '',
    ...(failing ? ['Found in:', '', ...shown(failing)] : []),
    ...(finding
      ? [`> ${finding.message}`, '', ...(finding.fix ? [`Fix: ${finding.fix.title}.`, ''] : [])]
      : []),
    ...(passing ? ['Not found in:', '', ...shown(passing)] : []),
  ];
}

function shown(example: Example): string[] {
  const files = Object.entries<string>(example as Record<string, string>);
  return files.flatMap(([name, text]) => [
    ...(files.length > 1 || name.includes('.')
      ? [`\`${name.includes('.') ? name : `example.${name}.yaml`}\``, '']
      : []),
    fenced(text),
    '',
  ]);
}

function fenced(text: string): string {
  const visible = text.replace(/[\u0000-\u0008\u000b-\u001f]/g, '�');
  return `\`\`\`yaml\n${visible === '' ? '# nothing\n' : visible}\`\`\``;
}
