// The part of the report that says what is wrong.
import { code, count, plain } from './markdown.mjs';

const shown = 50;
const words = /** @type {const} */ ({ error: 'error', warning: 'warning', note: 'hint' });

/**
 * @typedef {object} Finding
 * @property {string} ruleId
 * @property {'error' | 'warning' | 'note'} level
 * @property {{ text: string }} message
 * @property {{ physicalLocation: { artifactLocation: { uri: string }, region: { startLine: number } } }[]} locations
 */

/**
 * @param {string} sarif a SARIF 2.1.0 log
 * @returns {Finding[]}
 */
export function findingsOf(sarif) {
  return JSON.parse(sarif).runs.flatMap((/** @type {{ results: Finding[] }} */ run) => run.results);
}

/**
 * @param {readonly Finding[]} findings
 * @returns {string} Markdown
 */
export function findingsReport(findings) {
  if (findings.length === 0) return 'Nothing was found.';
  const counts = /** @type {const} */ (['error', 'warning', 'note'])
    .map((level) => [findings.filter((one) => one.level === level).length, words[level]])
    .filter(([number]) => number !== 0)
    .map(([number, word]) => count(Number(number), String(word)));
  const rows = findings.slice(0, shown).map(({ level, locations, message, ruleId }) => {
    const { artifactLocation, region } = locations[0]?.physicalLocation ?? {};
    const place = `${shownUri(artifactLocation?.uri ?? '')}:${region?.startLine ?? 1}`;
    return `| ${words[level]} | ${code(place)} | ${plain(message.text)} (${plain(ruleId)}) |`;
  });
  const more = findings.length > shown ? [`\nAnd ${findings.length - shown} more, in the SARIF log.`] : [];
  return [
    `Found: ${counts.join(', ')}.`,
    '',
    '| | Where | What |',
    '| --- | --- | --- |',
    ...rows,
    ...more,
  ].join('\n');
}

/**
 * @param {string} uri
 * @returns {string} as the file is called, where the address can be read back
 */
function shownUri(uri) {
  try {
    return decodeURIComponent(uri);
  } catch {
    return uri;
  }
}
