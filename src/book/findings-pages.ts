/** What the checks find, worst first, each with what mends it; a panel without findings says what was checked. */
import type { Finding, Severity } from '../checks/index.ts';
import { SEVERITIES } from '../checks/index.ts';
import type { Derived } from '../derive.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { mm, money, unitSigns } from './format.ts';
import { pt } from './page.ts';
import { BLACK, FIRM, HAIR, type Pen, WHITE } from './pen.ts';
import { LEADING, type Leaf, type Setting, startFlow } from './sheet.ts';
import { counted } from './words.ts';

const WORDS: Readonly<Record<Severity, string>> = {
  danger: 'Danger',
  wrong: 'Wrong',
  caution: 'Caution',
  hint: 'Hint',
};
const MEANINGS: Readonly<Record<Severity, string>> = {
  danger: 'can hurt someone, or burn: mend first',
  wrong: 'will not work, or shows an untruth: mend first',
  caution: 'works, and will be regretted',
  hint: 'worth knowing',
};

/** The sign of a severity, by shape alone: filled triangle, filled square with a cross, open diamond, open circle. */
export function drawSeverity(pen: Pen, [x, y]: Spot, severity: Severity): void {
  const r = 1.9;
  if (severity === 'danger') {
    pen.polyline(
      [
        [x, y - r],
        [x + r * 1.05, y + r * 0.8],
        [x - r * 1.05, y + r * 0.8],
      ],
      { closed: true, fill: BLACK },
    );
  } else if (severity === 'wrong') {
    pen.rect([x - r * 0.85, y - r * 0.85], [r * 1.7, r * 1.7], { fill: BLACK });
    const k = r * 0.45;
    pen.line([x - k, y - k], [x + k, y + k], { stroke: WHITE, width: FIRM });
    pen.line([x - k, y + k], [x + k, y - k], { stroke: WHITE, width: FIRM });
  } else if (severity === 'caution') {
    pen.polyline(
      [
        [x, y - r],
        [x + r, y],
        [x, y + r],
        [x - r, y],
      ],
      { closed: true, stroke: BLACK, width: FIRM },
    );
  } else pen.circle([x, y], r * 0.85, { stroke: BLACK, width: FIRM });
}

/** "2 dangers, 1 wrong, 3 cautions", or null where there is nothing. */
export function tallyWords(findings: readonly Finding[]): string | null {
  const said = SEVERITIES.flatMap((severity) => {
    const count = findings.filter((finding) => finding.severity === severity).length;
    return count === 0 ? [] : [severity === 'wrong' ? `${count} wrong` : counted(count, severity)];
  });
  return said.length === 0 ? null : said.join(', ');
}

/** "1 danger and 2 things wrong", or null where nothing is either. */
export function seriousWords(findings: readonly Finding[]): string | null {
  const count = (severity: Severity): number => findings.filter((finding) => finding.severity === severity).length;
  const said = [
    ...(count('danger') > 0 ? [counted(count('danger'), 'danger')] : []),
    ...(count('wrong') > 0 ? [`${counted(count('wrong'), 'thing')} wrong`] : []),
  ];
  return said.length === 0 ? null : said.join(' and ');
}

/** A sentence begins with a capital, unless its first word is an id. */
export function sentenceOf({ message, where }: Finding): string {
  const [word = ''] = message.split(/[ ,:]/);
  const named = where.ids.includes(word) || !/^[a-z]+$/.test(word);
  const begun = named ? message : `${message.charAt(0).toUpperCase()}${message.slice(1)}`;
  return unitSigns(/[.?]$/.test(begun) ? begun : `${begun}.`);
}

const SIZE: Millimetre = pt(9.6);
const SMALL: Millimetre = pt(8.6);
const INDENT: Millimetre = 7;

/** Before anything is built: what must be mended first. */
export function findingsPages(derived: Derived, setting: Setting): Leaf[] {
  const findings = derived.findings();
  const { counts } = derived;
  const serious = seriousWords(findings);
  const flow = startFlow(setting, {
    title: 'Findings',
    lead:
      findings.length === 0
        ? 'Nothing found.'
        : `${tallyWords(findings) ?? ''}. ${serious === null ? 'Nothing dangerous or wrong.' : 'Build nothing from this book until what is dangerous or wrong is mended, and the book printed again.'}`,
    name: 'findings',
    bookmark: { title: 'Findings', level: 0 },
  });
  const { sheet, measure } = setting;
  for (const severity of SEVERITIES) {
    const part = findings.filter((finding) => finding.severity === severity);
    if (part.length === 0) continue;
    flow.heading(WORDS[severity], MEANINGS[severity]);
    flow.y += 1.2;
    for (const finding of part) {
      const width = sheet.width - INDENT - 5;
      const said = measure.wrap(sentenceOf(finding), 'text-400', SIZE, width);
      const place = finding.where.at === null ? '' : `x ${mm(finding.where.at[0])}, y ${mm(finding.where.at[1])} mm`;
      const where = [finding.where.ids.join(' '), place, finding.code].filter((each) => each !== '').join('; ');
      flow.need(Math.min(said.length + 1 + finding.mends.length, 12) * SIZE * LEADING + 2);
      drawSeverity(flow.pen(), [sheet.left + 2.2, flow.y + SIZE * 0.62], severity);
      flow.pen().rect([sheet.right - 3.4, flow.y + 0.4], [3.4, 3.4], { stroke: BLACK, width: HAIR });
      flow.paragraph(sentenceOf(finding), { size: SIZE, indent: INDENT, width: sheet.width - 5, after: 0.2 });
      for (const mend of finding.mends)
        flow.paragraph(
          `To mend it: ${unitSigns(mend.text)}${/[.?]$/.test(mend.text) ? '' : '.'}${mend.price === null ? '' : ` About ${money(mend.price)}.`}`,
          { size: SMALL, indent: INDENT, width: sheet.width - 5, after: 0.2 },
        );
      flow.paragraph(where, { size: pt(8), indent: INDENT, width: sheet.width - 5, after: 1.8 });
    }
  }
  flow.y += 2;
  flow.paragraph(
    `Checked: ${[
      counted(counts.strips, 'strip'),
      counted(counts.points, 'point'),
      counted(counts.crossings, 'crossing'),
      counted(counts.levers, 'lever'),
      counted(counts.lamps, 'lamp'),
      counted(counts.drives, 'drive'),
      counted(counts.circuits, 'circuit'),
      counted(counts.connectors, 'connector'),
      counted(counts.wires, 'wire'),
    ].join(', ')}. The checks are an aid: they know typical parts, not yours.`,
    { size: SMALL },
  );
  return flow.leaves;
}
