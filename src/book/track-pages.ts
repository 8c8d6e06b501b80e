/** Track feed: the two rails on paper, frogs, cuts, droppers, legs without power, the bus and its coin test. */
import type { Derived } from '../derive.ts';
import type { Lies } from '../panel/index.ts';
import { byId } from '../plan/index.ts';
import type { BusSum, LegFeed, LegState, Rail, TrackGap, TrackQuestion } from '../track/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { formatNumber as decimals, formatAmps } from '../units/index.ts';
import { mm, unitSigns } from './format.ts';
import { drawFrogTable } from './frog-pages.ts';
import { pt } from './page.ts';
import { BLACK, EDGE, type Pen } from './pen.ts';
import { drawCut, drawFeed, drawFrog, drawRail, layRails } from './rail-drawing.ts';
import { capitalOf } from './reading-distance.ts';
import { type Flow, LEADING, type Leaf, type Setting, startFlow } from './sheet.ts';
import { drawTable, type TableCell } from './table.ts';
import { counted, listed, placeNames } from './words.ts';

const WORD_SIZE: Millimetre = pt(9);

export function trackPages(derived: Derived, setting: Setting): Leaf[] {
  const feed = derived.track();
  if (feed.rails.length === 0) return [];
  const { sheet } = setting;
  const flow = startFlow(setting, {
    title: 'Track feed and frogs',
    lead: `Seen from above. The bus has two wires, A and B, which are not the A and B of the circuits; each rail hangs on one of them. ${counted(feed.frogs.length, 'frog')}, ${counted(feed.gaps.length, 'cut')}, ${counted(feed.droppers.length, 'pair')} of droppers, ${feed.sections.length === 0 ? 'no reversing section' : counted(feed.sections.length, 'reversing section')}.`,
    name: 'track',
    bookmark: { title: 'Track feed and frogs', level: 0 },
  });
  flow.y += 1;
  drawKey(flow, setting, feed.sections.length > 0);
  const pictures = layRails(derived, setting.measure, [sheet.width, sheet.bottom - flow.y - 14]);
  for (const picture of pictures) {
    if (picture.window !== null) {
      flow.need(picture.size[1] + 10);
      flow.y += 4;
      const [x0, y0, x1, y1] = picture.window;
      flow.pen().text([sheet.left, flow.y], `x ${mm(x0)} to ${mm(x1)}, y ${mm(y0)} to ${mm(y1)} mm on the face`, {
        font: 'text-600',
        size: WORD_SIZE,
      });
      flow.y += 2;
    }
    flow.need(picture.size[1]);
    picture.draw(flow.pen(), [sheet.left + (sheet.width - picture.size[0]) / 2, flow.y]);
    flow.y += picture.size[1] + 2;
  }
  const lost = pictures.reduce((sum, picture) => sum + picture.lost, 0);
  flow.paragraph(
    `Rows are drawn further apart than they are, and cuts further from their points.${lost === 0 ? '' : ` ${counted(lost, 'number or name', 'numbers and names')} found no room: the lists have them all.`}`,
    { size: WORD_SIZE },
  );
  if (feed.cautions.length > 0) {
    flow.heading('Cautions');
    flow.y += 1;
    for (const caution of feed.cautions) flow.paragraph(caution, { size: pt(9.2), indent: 5, bullet: '!', after: 1.1 });
  }
  drawSections(flow, setting, derived);
  drawFrogTable(flow, setting, derived);
  drawGaps(flow, setting, derived);
  drawDroppers(flow, setting, derived);
  drawLegs(flow, setting, derived);
  for (const bus of feed.buses) drawBus(flow, setting, bus);
  return flow.leaves;
}

/** What the marks of the drawing are. */
function drawKey(flow: Flow, { sheet }: Setting, sections: boolean): void {
  const pen = flow.pen();
  const y = flow.y + 3;
  const base = y + capitalOf(WORD_SIZE) / 2;
  let x = sheet.left;
  const say = (wide: Millimetre, draw: (pen: Pen, at: Spot) => void, words: string): void => {
    draw(pen, [x, y]);
    x += wide + 1.4 + pen.text([x + wide + 1.4, base], words, { size: WORD_SIZE }) + 4.6;
  };
  const rail =
    (bus: 'A' | 'B') =>
    (to: Pen, [at, level]: Spot): void =>
      drawRail(
        to,
        [
          [at, level],
          [at + 9, level],
        ],
        bus,
      );
  say(9, rail('A'), 'wire A');
  say(9, rail('B'), 'wire B');
  say(
    6,
    (to, [at, level]) => {
      drawRail(
        to,
        [
          [at, level],
          [at + 6, level],
        ],
        'A',
      );
      drawCut(to, [at + 3, level], [1, 0], 0.9);
    },
    'cut',
  );
  say(1.4, (to, [at, level]) => drawFeed(to, [at + 0.7, level]), 'dropper, number in a box');
  say(2, (to, [at, level]) => drawFrog(to, [at + 1, level]), 'frog');
  if (sections) {
    say(
      8,
      (to, [at, level]) => {
        to.rect([at, level - 1.7], [8, 3.4], { fill: '#dcdcdc' });
        to.line([at, level - 1.7], [at, level + 1.7], { stroke: BLACK, width: EDGE });
        to.line([at + 8, level - 1.7], [at + 8, level + 1.7], { stroke: BLACK, width: EDGE });
      },
      'reversing section',
    );
  }
  flow.y += 7;
}

/** "Between P1 and Tolland", with which of several. */
function spanWords(span: string, nameOf: (id: string) => string): string {
  const [, ends = span, which] = /^(.*?)(?:#(\d+))?$/.exec(span) ?? [];
  return `${listed(ends.split('/').map(nameOf))}${which === undefined ? '' : `, track ${which}`}`;
}

function liesWords(lies: Lies): string {
  const said = Object.entries(lies).sort(([a], [b]) => byId(a, b));
  return said.length === 0 ? 'always' : listed(said.map(([point, lie]) => `${point} ${lie === 'normal' ? 'N' : 'R'}`));
}

/** Heading, sentences, head and a few questions, mm. */
const SECTIONS_AROUND: Millimetre = 52;

function drawSections(flow: Flow, { sheet }: Setting, derived: Derived): void {
  const feed = derived.track();
  if (feed.sections.length === 0) return;
  const nameOf = placeNames(derived);
  flow.need(Math.min(SECTIONS_AROUND + feed.sections.length * 8, sheet.bottom - sheet.top - 30));
  flow.heading(
    'Reversing sections',
    feed.sectionsByFile
      ? 'the cuts of the file stand instead'
      : feed.sectionsProved
        ? 'no fewer will do'
        : 'fewer may do: the search was cut',
  );
  flow.y += 1;
  flow.paragraph(
    'A train comes back over this track turned round, so its two rails are cut off at both ends and fed through something that changes them over: a module that does it by itself, or a switch worked while the train stands whole within the section.',
    { size: WORD_SIZE },
  );
  drawTable(
    flow,
    sheet,
    [
      { title: 'Section', width: 14, font: 'text-700' },
      { title: 'Track between', width: { share: 1 } },
      { title: 'Begins at', width: 20 },
      { title: 'Ends at', width: 20 },
      { title: 'Length', width: 18, anchor: 'end' },
      { title: 'Longest train', width: { share: 0.8 } },
      { title: 'Verdict', width: { share: 1.2 } },
    ],
    feed.sections.map((section): TableCell[] => [
      section.id,
      spanWords(section.span, nameOf),
      nameOf(section.begins.feature),
      nameOf(section.ends.feature),
      section.length === null ? 'not said' : `${mm(section.length)} mm`,
      section.train === null ? 'not said' : `${section.train.id}, ${mm(section.train.length)} mm`,
      section.verdict === 'holds'
        ? 'holds it'
        : section.verdict === 'too-short'
          ? { text: 'too short for it', font: 'text-700' }
          : 'not asked for',
    ]),
  );
  const open = new Map(feed.sections.flatMap(({ questions }) => questions).map((question) => [question.key, question]));
  drawQuestions(flow, [...open.values()]);
}

const STATES: Readonly<Record<TrackGap['state'], string>> = {
  there: 'is there',
  missing: 'missing',
  'to-cut': 'to cut',
};

/** Which rail, in a way that does not hang on where one looks from: by its wire. */
function railWords(derived: Derived, span: string, rail: Rail | 'both'): string {
  if (rail === 'both') return 'both';
  return derived.track().rails.find((each) => each.span === span)?.[rail] ?? rail;
}

function drawGaps(flow: Flow, { sheet }: Setting, derived: Derived): void {
  const { gaps, otherGaps } = derived.track();
  if (gaps.length + otherGaps.length === 0) return;
  const nameOf = placeNames(derived);
  const spans = new Map(derived.plan.spans.map((span) => [span.id, span]));
  const unsure = gaps.some((gap) => gap.onlyIfLive);
  flow.heading('Cuts in the rails', unsure ? '? only if that frog is live' : undefined);
  flow.y += 0.6;
  drawTable(
    flow,
    sheet,
    [
      { title: 'No', width: 7, anchor: 'end', font: 'text-700' },
      { title: 'Next to', width: { share: 0.8 } },
      { title: 'Towards', width: { share: 1.1 } },
      { title: 'Rail', width: 7 },
      { title: 'For', width: { share: 1 } },
      { title: 'State', width: { share: 0.9 } },
      { title: '', width: 4, anchor: 'end' },
    ],
    gaps.map((gap): TableCell[] => {
      const ends = spans.get(gap.span)?.ends ?? ['', ''];
      return [
        String(gap.no),
        nameOf(ends[gap.end]),
        nameOf(ends[gap.end === 0 ? 1 : 0]),
        railWords(derived, gap.span, gap.rail),
        `${listed(gap.for)}${gap.onlyIfLive ? ' ?' : ''}`,
        STATES[gap.state],
        { tick: true },
      ];
    }),
    { size: pt(8.6), pad: 0.45, across: 2, gap: 1.6 },
  );
  for (const other of otherGaps)
    flow.paragraph(
      `The file has a cut at x ${mm(other.at[0])}, y ${mm(other.at[1])} mm ${other.why === 'finds-no-track' ? 'where no track is' : 'that nothing here asks for: a section of your own, or one too many'}.`,
      { size: WORD_SIZE },
    );
}

function drawDroppers(flow: Flow, { sheet }: Setting, derived: Derived): void {
  const { droppers, lostFeeds } = derived.track();
  if (droppers.length === 0) return;
  const nameOf = placeNames(derived);
  const spans = new Map(derived.plan.spans.map((span) => [span.id, span]));
  const planned = droppers.some((dropper) => dropper.from === 'tool');
  flow.heading('Droppers', planned ? 'the fewest that feed every piece; more do no harm' : 'as the file has them');
  flow.y += 0.6;
  flow.paragraph('Left and right as one goes from the first to the second.', { size: WORD_SIZE, after: 0.6 });
  drawTable(
    flow,
    sheet,
    [
      { title: 'No', width: 7, anchor: 'end', font: 'text-700' },
      { title: 'From', width: { share: 1 } },
      { title: 'To', width: { share: 1 } },
      { title: 'Left', width: 11 },
      { title: 'Right', width: 11 },
      { title: '', width: 4, anchor: 'end' },
    ],
    droppers.map((dropper): TableCell[] => {
      const ends = spans.get(dropper.span)?.ends ?? ['', ''];
      const wire = (bus: 'A' | 'B' | null): string => bus ?? dropper.section ?? '';
      return [
        String(dropper.no),
        nameOf(ends[0]),
        nameOf(ends[1]),
        wire(dropper.left),
        wire(dropper.right),
        { tick: true },
      ];
    }),
    { size: pt(8.6), pad: 0.45, across: 2, gap: 1.6 },
  );
  if (lostFeeds.length > 0)
    flow.paragraph(
      `${counted(lostFeeds.length, 'feed')} of the file ${lostFeeds.length === 1 ? 'lies' : 'lie'} on no track.`,
      {
        size: WORD_SIZE,
      },
    );
}

const LEG_STATES: Readonly<Record<LegState, string>> = {
  alive: 'alive',
  dead: 'dead',
  short: 'short circuit',
  depends: 'depends',
};

/** When a leg that is not always fed has power. */
function aliveWords(leg: LegFeed): string {
  if (!leg.complete) return 'too many points have a say: not worked out';
  if (leg.alive.length === 0) return 'never';
  return leg.alive.map(liesWords).join(', or ');
}

function drawLegs(flow: Flow, { sheet }: Setting, derived: Derived): void {
  const { legs, shorts, sectionsByFile } = derived.track();
  if (legs.length === 0 || sectionsByFile) return;
  const odd = legs.filter(
    (leg) => leg.whenSet !== 'alive' || leg.whenNormal !== 'alive' || leg.whenReverse !== 'alive',
  );
  flow.heading('Legs without power', `${odd.length} of ${counted(legs.length, 'leg')} in some lie`);
  flow.y += 1;
  if (odd.length === 0)
    flow.paragraph('None: with these cuts and droppers every leg has power, however the points lie.', {
      size: WORD_SIZE,
    });
  drawTable(
    flow,
    sheet,
    [
      { title: 'Leg', width: 18, font: 'text-700' },
      { title: 'Point set for it', width: { share: 1 } },
      { title: 'Point normal', width: { share: 0.8 } },
      { title: 'Point reverse', width: { share: 0.8 } },
      { title: 'Alive when', width: { share: 2 } },
    ],
    odd.map((leg): TableCell[] => [
      `${leg.point} ${leg.lie === 'normal' ? 'N' : 'R'}`,
      LEG_STATES[leg.whenSet],
      LEG_STATES[leg.whenNormal],
      LEG_STATES[leg.whenReverse],
      aliveWords(leg),
    ]),
    { size: pt(8.6), pad: 0.6 },
  );
  for (const short of shorts)
    flow.paragraph(
      `Short circuit ${liesWords(short.when) === 'always' ? 'always' : `with ${liesWords(short.when)}`}: ${short.frogs.length === 0 ? 'both wires on one rail' : `through ${listed(short.frogs)}`}.`,
      { size: WORD_SIZE, strong: true, indent: 5, bullet: '!' },
    );
}

const VERDICTS: Readonly<Record<BusSum['verdict'], string>> = {
  trips: 'The booster trips: the coin is seen everywhere.',
  'does-not-trip': 'The booster does not trip: the wire is too thin or too long.',
  'not-asked-for': 'Not asked for: the file does not say enough.',
};

/** Heading, verdict and sentences of a bus, mm. */
const BUS_AROUND: Millimetre = 52;

/** The sum of one bus, step by step, to its verdict. */
function drawBus(flow: Flow, { sheet }: Setting, bus: BusSum): void {
  // The sum stays in one piece with its verdict and what it asks.
  flow.need(Math.min(BUS_AROUND + bus.steps.length * 6.4 + bus.questions.length * 5.2, sheet.bottom - sheet.top - 30));
  flow.heading(
    bus.booster === null ? 'Bus and coin test' : `Bus and coin test, ${bus.booster}`,
    'a coin across the rails at the far end must trip the booster',
  );
  flow.y += 1;
  drawTable(
    flow,
    sheet,
    [
      { title: 'What', width: { share: 1 } },
      { title: 'Sum', width: { share: 1.6 } },
      { title: '', width: 24, anchor: 'end', font: 'text-600' },
    ],
    bus.steps.map((step): TableCell[] => [
      unitSigns(step.what),
      unitSigns(step.sum),
      unitSigns(
        step.unit === 'A'
          ? formatAmps(step.value)
          : `${decimals(step.value, step.unit === 'ohm' ? 3 : 2)} ${step.unit}`,
      ),
    ]),
    { size: WORD_SIZE, pad: 0.6 },
  );
  drawVerdict(flow, sheet.left, sheet.right, VERDICTS[bus.verdict], bus.verdict !== 'trips');
  const share = bus.dropShare === null ? '' : `, ${decimals(bus.dropShare * 100, 1)} % of its volts`;
  if (bus.drop !== null)
    flow.paragraph(`At the most that the booster gives the far end loses ${decimals(bus.drop, 2)} V${share}.`, {
      size: WORD_SIZE,
    });
  if (bus.wireAmps !== null)
    flow.paragraph(
      `The wire of the bus is made for ${formatAmps(bus.wireAmps)}: the booster gives no more, or a fuse stands before it.`,
      { size: WORD_SIZE },
    );
  drawQuestions(flow, bus.questions);
  flow.paragraph(
    'Sums are an aid: lay the coin yourself, everywhere, before trains run. Where the booster does not trip at once, switch off.',
    {
      size: WORD_SIZE,
    },
  );
}

/** What the file does not say and an answer hangs on, with the key that would say it. */
function drawQuestions(flow: Flow, questions: readonly TrackQuestion[]): void {
  if (questions.length === 0) return;
  flow.paragraph('To settle it, say in the file:', { size: WORD_SIZE, after: 0.6 });
  for (const question of questions)
    flow.paragraph(`${unitSigns(question.text)} (${question.key})`, {
      size: WORD_SIZE,
      indent: 5,
      bullet: '?',
      after: 0.4,
    });
  flow.y += 1.4;
}

/** A verdict in a rule of its own; a bad one on grey. */
function drawVerdict(flow: Flow, left: Millimetre, right: Millimetre, words: string, heavy: boolean): void {
  const tall = 8;
  flow.need(tall + 2);
  const pen = flow.pen();
  pen.rect([left, flow.y], [right - left, tall], {
    stroke: BLACK,
    width: heavy ? EDGE : 0.35,
    ...(heavy ? { fill: '#ececec' } : {}),
  });
  pen.text([left + 3, flow.y + tall / 2 + capitalOf(pt(11)) / 2], words, {
    font: 'text-700',
    size: pt(11),
    most: right - left - 6,
  });
  flow.y += tall + 2 + pt(9) * (LEADING - 1);
}
