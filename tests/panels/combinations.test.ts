/**
 * What can be built of which drive, feed, switch and lamps. Every expectation here is what the trade says (common practice, no source),
 * written by hand: which feed moves which drive, what burns, from what a lamp can be lit on it, and what that lamp then knows.
 */
import { describe, expect, it } from 'vitest';
import {
  ARRANGE_LAMPS,
  ARRANGE_SCHEMES,
  ARRANGES,
  judge,
  LAMPS,
  SUITS,
  SWITCH_SCHEMES,
  SWITCHES,
  TWINS,
  usualFor,
} from '../../src/cli/combinations-page.ts';
import { type Combination, combine, DRIVES, FEEDS, type FeedKind, SCHEMES } from '../../src/cli/combine.ts';
import { derive } from '../../src/derive.ts';
import { applyTransaction, type PanelFile } from '../../src/panel/index.ts';

type Scheme = Combination['scheme'];
type Drive = (typeof DRIVES)[number];

/** What comes of a drive on a feed: it moves; the finding that says why not; or nothing wires it to a feed. */
const MOVES: Readonly<Record<Drive, Readonly<Record<FeedKind, 'moves' | 'unfit' | 'burns' | 'none'>>>> = {
  // Polarity decides, and the feed is held: "9-12 V DC held", "relaxes when the feed is cut".
  'stall-2-wire': row('moves', 'moves', 'moves', 'unfit', 'unfit', 'unfit', 'unfit'),
  'limit-2-wire': row('moves', 'moves', 'moves', 'unfit', 'unfit', 'unfit', 'unfit'),
  // Which coil decides, and a pulse: "maintained on a raw supply it burns".
  'twin-coil': row('burns', 'burns', 'burns', 'moves', 'moves', 'moves', 'burns'),
  // It breaks its own coil: maintained or pulsed, but which coil decides, and polarity does not.
  'twin-coil-end-off': row('unfit', 'unfit', 'unfit', 'moves', 'moves', 'moves', 'unfit'),
  // "the input is no power feed": a contact to common.
  'servo-board': row('unfit', 'unfit', 'unfit', 'unfit', 'unfit', 'unfit', 'moves'),
  // "an address, not a wire"; "can be indicated only".
  decoder: row('none', 'none', 'none', 'none', 'none', 'none', 'none'),
  hand: row('none', 'none', 'none', 'none', 'none', 'none', 'none'),
};

function row<T>(reversing: T, split: T, halfWave: T, pulse: T, unit: T, charge: T, contact: T): Record<FeedKind, T> {
  return { reversing, split, 'half-wave': halfWave, pulse, unit, charge, contact };
}

const CODE = { unfit: 'drive-kind-unfit', burns: 'drive-would-burn' } as const;

/** Contacts that each kind of drive has for lamps where no frog takes one. */
const CONTACTS: Readonly<Record<Drive, number>> = {
  'stall-2-wire': 2,
  'limit-2-wire': 1,
  'twin-coil': 0,
  'twin-coil-end-off': 1,
  'servo-board': 0,
  decoder: 0,
  hand: 1,
};

type Lit = 'asked' | 'drive' | 'blades' | 'lamp-scheme-unfit' | 'lamp-contacts-short' | 'lamp-point-has-no-lever';

const fromContact = (drive: Drive): Lit => (CONTACTS[drive] > 0 ? 'drive' : 'lamp-contacts-short');
const HELD: ReadonlySet<FeedKind> = new Set(['reversing', 'split', 'half-wave']);
const PULSED: ReadonlySet<FeedKind> = new Set(['pulse', 'unit']);

/** What a lamp on a combination knows, or the finding that says why it cannot be lit so. */
function litBy(drive: Drive, feed: FeedKind, scheme: Scheme): Lit {
  // A contact on the blades suits any.
  if (scheme === 'blade-contact') return 'blades';
  // Nothing is asked of it by a wire: its contact alone tells.
  if (drive === 'hand' || drive === 'decoder') return fromContact(drive);
  switch (scheme) {
    // Across the feed: stall, limit-switched; on a twin-coil's "nothing is left on the feed to light a lamp", a servo's input is no feed.
    case 'across-feed':
      return HELD.has(feed) ? 'asked' : 'lamp-scheme-unfit';
    // In series: one stall drive; all others do not suit.
    case 'in-series':
      return HELD.has(feed) && drive === 'stall-2-wire' ? 'asked' : 'lamp-scheme-unfit';
    // Spare pole: any maintained toggle with a pole to spare; momentary switches do not suit.
    case 'spare-pole':
      return PULSED.has(feed) ? 'lamp-scheme-unfit' : 'asked';
    case 'drive-contact':
      return fromContact(drive);
    // Latching relay: a twin-coil with a momentary switch.
    case 'latching-relay':
      return PULSED.has(feed) ? 'asked' : 'lamp-scheme-unfit';
    // One behind the other: anything with contacts to spare, a maintained lever's poles first.
    case 'tree':
      return PULSED.has(feed) ? fromContact(drive) : 'asked';
    default:
      throw new RangeError(`no expectation for ${scheme}`);
  }
}

const isCode = (lit: Lit) => lit.startsWith('lamp-');

function expectCell(asked: Combination, wanted: readonly string[], knows: string): void {
  const verdict = judge(asked);
  expect(verdict.codes).toEqual([...new Set(wanted)].sort());
  expect(verdict.works).toBe(wanted.length === 0);
  if (wanted.length > 0) {
    // Whoever is told no is told what to use instead.
    expect(verdict.instead.length).toBeGreaterThan(0);
    return;
  }
  expect(verdict.knows).toEqual([knows]);
  expect(verdict.untruths).toBe(0);
}

describe.each(FEEDS)('a %s feed', (feed) => {
  it.each(DRIVES)('%s: every scheme', (drive) => {
    for (const scheme of SCHEMES) {
      const moves = MOVES[drive][feed];
      const lit = litBy(drive, feed, scheme);
      const wanted = [...(moves === 'unfit' || moves === 'burns' ? [CODE[moves]] : []), ...(isCode(lit) ? [lit] : [])];
      expectCell({ drive, feed, scheme }, wanted, lit);
    }
  });
});

describe('what is offered instead', () => {
  const serious = (panel: PanelFile) =>
    derive(panel)
      .findings()
      .filter(({ severity }) => severity === 'danger' || severity === 'wrong');

  it.each([
    ['reversing', undefined],
    ['pulse', undefined],
    ['contact', undefined],
    ['reversing', 'two-way'],
    ['pulse', 'two-way'],
    ['charge', 'two-way'],
    ['reversing', 'latch'],
    ['contact', 'latch'],
  ] as const)('mends, and brings nothing else, on a %s feed, twin %s', (feed, twin) => {
    const tried = new Set<string>();
    // What hands or addresses move has no lever, and so no twin.
    const levered = DRIVES.filter((drive) => twin === undefined || (drive !== 'decoder' && drive !== 'hand'));
    for (const drive of levered)
      for (const scheme of SCHEMES) {
        const panel = combine({ drive, feed, scheme, ...(twin === undefined ? {} : { twin }) });
        const found = serious(panel);
        const before = new Set(found.map(({ code }) => code));
        for (const { code, mends, where } of found)
          for (const { id, edit } of mends) {
            const key = `${drive} ${code} ${id}`;
            if (edit === null || tried.has(key)) continue;
            tried.add(key);
            const after = serious(applyTransaction(panel, edit));
            const same = after.filter((each) => each.code === code && each.where.ids.join() === where.ids.join());
            expect(same, key).toEqual([]);
            expect(
              after.map((each) => each.code).filter((each) => !before.has(each)),
              key,
            ).toEqual([]);
          }
      }
    // Every drive that the feed does not suit is offered one that does, and every lamp another way.
    expect(tried.size).toBeGreaterThan(10);
  });
});

describe('switches and buttons', () => {
  /** By kind of switch: what is wrong with it on a feed, whatever lights the lamps. */
  function wrongWith(drive: string, feed: FeedKind, part: (typeof SWITCHES)[number]): readonly string[] {
    if (part === 'buttons') return PULSED.has(feed) ? [] : ['button-unfit'];
    const stays = part !== 'toggle-3p-sprung';
    if (!PULSED.has(feed)) return stays ? [] : ['switch-sprung'];
    if (!stays || drive === 'twin-coil-end-off') return [];
    // Held on 24 V a coil draws more than a toggle and a pin of the connector carry: 4.4 A on 3 A.
    return feed === 'unit' ? ['coil-held-by-unit'] : ['drive-would-burn', 'switch-overloaded', 'pin-overloaded'];
  }

  function lamps(feed: FeedKind, part: (typeof SWITCHES)[number], scheme: Scheme): Lit {
    if (scheme === 'blade-contact') return 'blades';
    const momentary = part === 'toggle-3p-sprung' || part === 'buttons';
    if (scheme === 'latching-relay') return PULSED.has(feed) && momentary ? 'asked' : 'lamp-scheme-unfit';
    if (part === 'buttons') return 'lamp-point-has-no-lever';
    if (scheme === 'spare-pole') return momentary ? 'lamp-scheme-unfit' : 'asked';
    return HELD.has(feed) ? 'asked' : 'lamp-scheme-unfit';
  }

  it.each(SUITS)('%s on a %s feed', (drive, feed) => {
    for (const part of SWITCHES)
      for (const scheme of SWITCH_SCHEMES) {
        const lit = lamps(feed, part, scheme);
        const wanted = [...wrongWith(drive, feed, part), ...(isCode(lit) ? [lit] : [])];
        expectCell({ drive, feed, scheme, switch: part }, wanted, lit);
      }
  });

  it('a centre-off toggle lets all that its feed or its poles light go dark, and a contact on the blades stays lit', () => {
    const silent = (scheme: Scheme) =>
      judge({ drive: 'stall-2-wire', feed: 'reversing', scheme, switch: 'toggle-3p-centre-off' }).silent;
    expect(silent('across-feed')).toBeGreaterThan(0);
    expect(silent('spare-pole')).toBeGreaterThan(0);
    expect(silent('blade-contact')).toBe(0);
    expect(judge({ drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed', switch: 'toggle-3p' }).silent).toBe(
      0,
    );
  });
});

type By = (typeof TWINS)[number];

/**
 * Two panels that work one point: "crossed two-pole toggles (then bats say nothing and spare poles lie: only lamps on the feed or on
 * contacts tell), or momentary with a latch".
 */
describe('points worked from two panels', () => {
  const byNoWire = (drive: Drive) => drive === 'decoder' || drive === 'hand';

  /** What cannot be worked so, whatever lights the lamps. */
  function wrongWith(drive: Drive, feed: FeedKind, by: By): readonly string[] {
    // No lever works an address or a hand, and none on another panel: the same command goes out on the bus.
    if (byNoWire(drive)) return ['drive-kind-unfit', 'twin-unfit'];
    const moves = MOVES[drive][feed];
    const unfit =
      // The whole charge would go out to the other panel and back.
      feed === 'charge' ||
      // A toggle that stays on a pulse feed holds a coil: sprung ones stand side by side.
      (PULSED.has(feed) && by === 'two-way') ||
      // A relay of 12 V does not pull on the 5 V of a driver board.
      (feed === 'contact' && by === 'latch');
    return [...(moves === 'unfit' || moves === 'burns' ? [CODE[moves]] : []), ...(unfit ? ['twin-unfit'] : [])];
  }

  function lamps(drive: Drive, feed: FeedKind, by: By, scheme: Scheme): Lit {
    // Of a charge feed the lever stands alone.
    if (scheme === 'blade-contact' || feed === 'charge') return litBy(drive, feed, scheme);
    switch (scheme) {
      // Either the other panel turns the bat over, or it springs back.
      case 'spare-pole':
        return 'lamp-scheme-unfit';
      // What remembers is a relay, the drive's own or one beside it.
      case 'latching-relay':
        return PULSED.has(feed) || by === 'latch' ? 'asked' : 'lamp-scheme-unfit';
      // No poles: the contacts of the drive.
      case 'tree':
        return fromContact(drive);
      default:
        return litBy(drive, feed, scheme);
    }
  }

  it.each(FEEDS)('on a %s feed: every drive and scheme, two-way and with a latch', (feed) => {
    for (const by of TWINS)
      for (const drive of DRIVES)
        for (const scheme of byNoWire(drive) ? (['blade-contact'] as const) : SCHEMES) {
          const lit = byNoWire(drive) ? 'blades' : lamps(drive, feed, by, scheme);
          const wanted = [...wrongWith(drive, feed, by), ...(isCode(lit) ? [lit] : [])];
          expectCell({ drive, feed, scheme, twin: by }, wanted, lit);
        }
  });

  it('a toggle that stays on a relay that is to remember is no good, and one that springs back is offered', () => {
    const asked = { drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed', twin: 'latch' } as const;
    expectCell({ ...asked, switch: 'toggle-2p' }, ['twin-unfit'], '');
    expectCell({ ...asked, switch: 'toggle-1p-sprung' }, [], 'asked');
  });

  it('a middle of our own lever leaves lamps across the feed dark, and the other panel cannot light them', () => {
    const asked = {
      drive: 'stall-2-wire',
      feed: 'reversing',
      twin: 'two-way',
      switch: 'toggle-2p-centre-off',
    } as const;
    expect(judge({ ...asked, scheme: 'across-feed' }).silent).toBeGreaterThan(0);
    expect(judge({ ...asked, scheme: 'blade-contact' }).silent).toBe(0);
  });
});

describe('arrangements of lamps on a stall drive', () => {
  /**
   * Across the feed 12 V stand on a dark lamp that has its own resistor and no guard; opposed lamps behind one resistor guard each other,
   * and a guard diode as well takes the current of the lit ones. From a contact no lamp is ever reversed.
   */
  function wrongWith(
    scheme: Scheme,
    arrange: (typeof ARRANGES)[number],
    guard: string,
    count: number,
  ): readonly string[] {
    const faces = scheme === 'across-feed' || scheme === 'in-series';
    const shared = arrange === 'pair' || arrange === 'series' || arrange === 'parallel';
    const found: string[] = [];
    if (arrange === 'pair' && count > 1) found.push('group-not-a-pair');
    if (faces && shared && guard === 'antiparallel') found.push('guards-short-lamps', 'lamp-lies');
    if (scheme === 'across-feed' && arrange === 'own' && guard === 'none') found.push('lamp-reverse-wrong');
    return found;
  }

  it.each(ARRANGE_SCHEMES.filter((scheme) => scheme !== 'in-series'))('%s', (scheme) => {
    const knows = scheme === 'drive-contact' ? 'drive' : 'asked';
    for (const lamps of ARRANGE_LAMPS)
      for (const arrange of ARRANGES)
        for (const guard of arrange === 'free' ? (['none'] as const) : (['none', 'antiparallel'] as const))
          expectCell(
            { ...usualFor(scheme), scheme, arrange, guard, lamps },
            wrongWith(scheme, arrange, guard, lamps),
            knows,
          );
  });

  it('in series one lamp leaves a drive of 9 V on 12 V its volts, two do not: 12 V, 800 ohm, 9.9 V and 7.8 V (run in an outside solver)', () => {
    const one = { ...usualFor('in-series'), scheme: 'in-series' as const };
    expectCell({ ...one, lamps: 1 }, [], 'asked');
    expectCell({ ...one, lamps: 2, arrange: 'series' }, ['drive-volts-low'], '');
    // Side by side they take one lamp's volts.
    expectCell({ ...one, lamps: 2, arrange: 'parallel' }, [], 'asked');
    expectCell({ ...one, lamps: 3, arrange: 'parallel' }, [], 'asked');
  });
});

describe('kinds of lamp', () => {
  it.each(LAMPS)('%s by every scheme', (lamp) => {
    for (const scheme of SCHEMES) {
      const usual = usualFor(scheme);
      const feedLit = scheme === 'across-feed' || scheme === 'in-series';
      const basis = scheme === 'drive-contact' ? 'drive' : scheme === 'blade-contact' ? 'blades' : 'asked';
      // Two leads (opposed) want a feed that turns over, three leads a contact for each; old types want 10 to 20 mA, and the usual is 2 mA:
      // in series a lamp sees the drive's 15 mA.
      const wanted =
        lamp === 'led-5-red-green-2'
          ? feedLit
            ? []
            : ['lamp-scheme-unfit']
          : lamp === 'led-5-red-green-3c'
            ? feedLit
              ? ['lamp-scheme-unfit']
              : []
            : lamp === 'led-3-red-old' && scheme !== 'in-series'
              ? ['lamp-lies']
              : [];
      expectCell({ ...usual, scheme, lamp }, wanted, basis);
    }
  });
});
