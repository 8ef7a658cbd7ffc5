import { fileKinds } from '../../files/fileKind.ts';
import type { Example } from './rule.ts';

const exampleName = 'example';

/** The route that the other files of examples belong to, where an example brings none of its own. */
export const exampleRoute = `game: Lanternfall
category: any%
restart: 14
segments:
  - id: harbor
    time: 1:32.4
    spread: 1.1
    techniques:
      - crate-vault
      - { use: rope-swing, retry: 3, max_tries: 3 }
  - id: rope-yard
    time: 2:08
    spread: 1.4
    techniques: [lamp-hop]
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4, practice: { attempt: 4, reload: 1 } }
  rope-swing: { difficulty: 4, saves: 7.5, loses: 2.2, practice: { attempt: 5, reload: 1 } }
  lamp-hop: { difficulty: 2, saves: 1.8, loses: 0.8, practice: { attempt: 3, reload: 1 } }
`;

/** The files of an example by name, whole: with the lines that the example leaves out. */
export function exampleFiles(example: Example): Record<string, string> {
  const files: Record<string, string> = {};
  for (const [key, text] of Object.entries<string>(example as Record<string, string>)) {
    const kind = fileKinds.find((one) => one === key);
    if (kind === undefined) files[key] = text;
    else if (kind === 'route')
      files[`${exampleName}.route.yaml`] = withHeader(text, 'game: Lanternfall\ncategory: any%\n');
    else files[`${exampleName}.${kind}.yaml`] = withHeader(text, `route: ${exampleName}.route.yaml\n`);
  }
  if (!Object.keys(files).some((file) => file.endsWith('.route.yaml')))
    files[`${exampleName}.route.yaml`] = exampleRoute;
  return files;
}

/** Some examples are about these header lines and write their own. */
function withHeader(text: string, lines: string): string {
  return /^(?:game|route)/m.test(text) || text === '' ? text : lines + text;
}
