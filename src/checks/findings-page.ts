import { CODES } from './codes.ts';
import { SEVERITIES } from './find-all.ts';
import type { Severity } from './types.ts';

const MEANING: Readonly<Record<Severity, string>> = {
  danger: 'can hurt someone, or burn',
  wrong: 'will not work, or tells an untruth',
  caution: 'works, and will be regretted',
  hint: 'worth knowing',
};

/** The list of all findings as a page of markdown, by severity and code. */
export function findingsPage(): string {
  const lines = [
    '# Findings',
    '',
    'What `check` can report, worst first. Codes never change their meaning. This page is made from the program.',
    '',
  ];
  for (const severity of SEVERITIES) {
    lines.push(`## ${severity}: ${MEANING[severity]}`, '', '| code | what and why |', '| --- | --- |');
    const codes = Object.entries(CODES).filter(([, code]) => code.severity === severity);
    for (const [code, { why }] of codes.sort(([a], [b]) => (a < b ? -1 : 1))) lines.push(`| \`${code}\` | ${why} |`);
    lines.push('');
  }
  return lines.join('\n');
}
