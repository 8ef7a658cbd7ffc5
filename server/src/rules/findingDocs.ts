import { commentCodes, forecastRules, readingCodes, rules } from './catalogue.ts';
import { commentPages, readingPages, type ReadingPage } from './readingPages.ts';
import type { CodePage, Severity } from './engine/rule.ts';

/** Everything that can be said of a code. */
export interface FindingDoc {
  readonly code: string;
  readonly severity: Severity;
  readonly title: string;
  readonly page: ReadingPage & Pick<CodePage, 'today'>;
  /** What finds it: reading the text, a rule, a rule that needs the model's estimates, or the check of comments. */
  readonly by: 'reading' | 'rule' | 'forecast' | 'comment';
}

/** Every code that a finding can have, in order of its name. */
export function findingDocs(): FindingDoc[] {
  const of = (by: FindingDoc['by']) => (rule: Omit<FindingDoc, 'by'>) => ({
    code: rule.code,
    severity: rule.severity,
    title: rule.title,
    page: rule.page,
    by,
  });
  const all: FindingDoc[] = [
    ...rules.map(of('rule')),
    ...forecastRules.map(of('forecast')),
    ...readingCodes.flatMap(({ code, title }) => {
      const page = readingPages[code];
      return page ? [of('reading')({ code, title, severity: 'error', page })] : [];
    }),
    ...commentCodes.flatMap((rule) => {
      const page = commentPages[rule.code];
      return page ? [of('comment')({ ...rule, page })] : [];
    }),
  ];
  return all.sort((a, b) => (a.code < b.code ? -1 : 1));
}
