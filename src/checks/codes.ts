/**
 * Every finding there is: its severity, what it means and why it matters, and the words of its message. Text is composed here and
 * nowhere else, so that the command line, the screen and the book say the same. A code is never used for anything else.
 */
import {
  formatAmps,
  formatMillimetres,
  formatNumber,
  formatOhms,
  formatSeconds,
  formatVolts,
  formatWatts,
} from '../units/index.ts';
import type { Severity, Values } from './types.ts';

export interface FindingCode {
  readonly severity: Severity;
  /** One sentence for the list of findings: what it is and why it matters. */
  readonly why: string;
  readonly say: (ids: readonly string[], values: Values) => string;
}

const list = (ids: readonly string[]): string =>
  ids.length <= 1 ? (ids[0] ?? '') : `${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`;
/** So many are named one by one. */
const MOST_NAMED = 6;
/** Decoders by name, or only how many there are. */
const decoders = (ids: readonly string[]): string => (ids.length > MOST_NAMED ? `${ids.length} decoders` : list(ids));
const number = (values: Values, key: string): number => {
  const value = values[key];
  return typeof value === 'number' ? value : Number.NaN;
};
/** Figures of a file may be far beyond any panel's; they are said all the same, in powers of ten. */
const said = (value: number, unit: string, format: (value: number) => string): string =>
  Math.abs(value) < MOST_PLAIN ? format(value) : `${value.toPrecision(3)} ${unit}`;
const MOST_PLAIN = 1e7;
const V = (values: Values, key: string): string => said(number(values, key), 'V', formatVolts);
const A = (values: Values, key: string): string => said(number(values, key), 'A', formatAmps);
const R = (values: Values, key: string): string => said(number(values, key), 'ohm', formatOhms);
const W = (values: Values, key: string): string => said(number(values, key), 'W', formatWatts);
const seconds = (values: Values, key: string): string => said(number(values, key), 's', formatSeconds);
const mm = (values: Values, key: string): string => said(number(values, key), 'mm', formatMillimetres);
const times = (values: Values, key: string): string => said(number(values, key), '', (value) => formatNumber(value, 1));
/** To a tenth, so that 9.9 is not said to be less than 10: "9.9 degrees", "75 degrees". */
/** How far one thing reaches into another: a gap below nothing, said without its minus. */
const into = (values: Values, key: string): string => `${formatNumber(-number(values, key), 1)} mm`;
const degrees = (values: Values, key: string): string =>
  `${formatNumber(number(values, key), 1).replace(/\.0$/, '')} degrees`;
const word = (values: Values, key: string): string => String(values[key] ?? '');
const stretch = (values: Values): string =>
  word(values, 'begins') === word(values, 'ends')
    ? `the loop at ${word(values, 'begins')}`
    : `the track from ${word(values, 'begins')} to ${word(values, 'ends')}`;

/** Kinds of feed as a sentence names them. */
const FEED_WORDS: Readonly<Record<string, string>> = {
  reversing: 'a reversing feed',
  split: 'a split feed',
  'half-wave': 'a half-wave feed',
  pulse: 'a pulse feed',
  charge: 'a charge feed',
  contact: 'a contact to common',
};
/** Why two panels cannot work a lever. */
const TWIN_UNFIT: Readonly<Record<string, (values: Values) => string>> = {
  charge: () =>
    'the whole charge would go out to the other panel and back through two switches; pulses from switches side by side do it',
  'two-way-pulse': () =>
    'a switch that stays on a pulse feed holds a coil; switches that spring back stand side by side',
  stays: (v) => `${word(v, 'part')} stays, and holds a coil of the relay that is to remember`,
  'relay-volts': (v) =>
    `relay ${word(v, 'relay')} has coils for ${V(v, 'coil')}, and gets ${V(v, 'volts')}: it does not pull`,
  decoder: () => 'an address moves the point, not a wire; the other panel sends the same command on the bus',
  hand: () => 'a hand moves the point; there is nothing to work from either panel',
};
const feed = (values: Values): string => FEED_WORDS[word(values, 'feed')] ?? `a ${word(values, 'feed')} feed`;

export const CODES = {
  // ---- the file
  'key-unknown': {
    severity: 'hint',
    why: 'The file holds a key that this program does not know. It is kept as it is.',
    say: (_ids, v) => `${word(v, 'path')} is not a key this program knows; it is kept as it is`,
  },
  'reference-unknown': {
    severity: 'wrong',
    why: 'A record names an id that is not in the file.',
    say: (ids, v) =>
      `${ids[0]} names ${word(v, 'names')} in ${word(v, 'key')}, and there is no such ${word(v, 'kind')}`,
  },
  'part-like-unknown': {
    severity: 'wrong',
    why: 'A part of your own is said to be like one that is not in the catalogue.',
    say: (ids, v) => `part ${ids[0]} is said to be like ${word(v, 'like')}, which is not in the catalogue`,
  },
  'part-figure-unknown': {
    severity: 'hint',
    why: 'A part of your own has a figure that its kind does not have. It is kept and not used.',
    say: (ids, v) => `part ${ids[0]} has no figure called ${word(v, 'figure')}; it is kept and not used`,
  },
  'part-figure-bad': {
    severity: 'wrong',
    why: 'A figure of a part of your own cannot be right. The typical one stands in.',
    say: (ids, v) =>
      `part ${ids[0]}: ${word(v, 'figure')} should be ${word(v, 'expected')}; the typical figure stands in`,
  },
  // ---- the plan
  'strips-none': {
    severity: 'caution',
    why: 'Nothing is laid yet: there is no track to make a panel of.',
    say: () => 'no strip is laid yet',
  },
  'strip-no-length': {
    severity: 'wrong',
    why: 'A strip without length joins nothing and shows nothing.',
    say: (ids) => `strip ${ids[0]} has no length`,
  },
  'end-too-square': {
    severity: 'wrong',
    why: 'A branch is read from 10 to 75 degrees. Nearer to square nobody can tell which way it leaves.',
    say: (ids, v) =>
      `cannot tell which way ${ids[0]} leaves ${ids[1]}: its end meets it at ${degrees(v, 'angle')}, and a branch is read up to ${degrees(v, 'most')}; until then it is a free end`,
  },
  'end-too-flat': {
    severity: 'wrong',
    why: 'A branch flatter than 10 degrees lies along the strip that it should leave.',
    say: (ids, v) =>
      `${ids[0]} meets ${ids[1]} at ${degrees(v, 'angle')}: too flat to read as a branch, which wants ${degrees(v, 'least')}`,
  },
  'end-misses': {
    severity: 'caution',
    why: 'An end that stops just short of another strip was probably meant to join it.',
    say: (ids, v) => `${ids[0]} ends ${mm(v, 'gap')} short of ${ids[1]}: they are not joined`,
  },
  'butt-kink': {
    severity: 'caution',
    why: 'Two strips end to end with a sharp corner between them are hard to read as one track.',
    say: (ids, v) => `${ids[0]} and ${ids[1]} join end to end with a kink of ${degrees(v, 'kink')}`,
  },
  'ends-ambiguous': {
    severity: 'wrong',
    why: 'Ends that meet in one spot can be read in more than one way; the tool does not guess.',
    say: (ids) => `${list(ids)} meet in one spot and can be read in more than one way`,
  },
  'strips-overlap': {
    severity: 'wrong',
    why: 'Strips on top of each other cannot be told apart.',
    say: (ids, v) =>
      ids.length === 1
        ? `${ids[0]} lies on top of itself for ${mm(v, 'length')}`
        : `${ids[0]} and ${ids[1]} lie on top of each other for ${mm(v, 'length')}`,
  },
  'crossing-unreadable': {
    severity: 'wrong',
    why: 'What crosses here cannot be read as a diamond or a bridge.',
    say: (ids) =>
      ids.length === 1
        ? `a crossing of ${ids[0]} with itself cannot be read`
        : `the crossing of ${list(ids)} cannot be read`,
  },
  'strip-crosses-itself': {
    severity: 'hint',
    why: 'A strip that crosses itself is read as a diamond there; often it was a slip of the hand, or a bridge is meant.',
    say: (ids, v) =>
      `${ids[0]} crosses itself${number(v, 'more') > 0 ? `, here and at ${number(v, 'more')} more spots` : ''}: read as a diamond`,
  },
  'strip-many-corners': {
    severity: 'hint',
    why: 'A strip with hundreds of corners was hardly laid by hand; each bend of tape needs one.',
    say: (ids, v) => `${ids[0]} has ${number(v, 'corners')} corners: a strip of tape needs a few`,
  },
  'record-finds-nothing': {
    severity: 'wrong',
    why: 'A record of the file finds nothing near the spot that it names.',
    say: (ids, v) => `${word(v, 'kind')} ${ids[0]} finds nothing within ${mm(v, 'reach')} of where it should be`,
  },
  'records-on-one': {
    severity: 'wrong',
    why: 'Two records name one and the same thing; the first in the file counts.',
    say: (ids, v) => `${list(ids)} name the same ${word(v, 'kind')}; ${ids[0]} counts`,
  },
  'normal-unknown': {
    severity: 'wrong',
    why: 'The normal leg of a point is named by a strip that is not one of its legs.',
    say: (ids, v) => `${ids[0]}: ${word(v, 'normal')} is not one of its legs, so the straighter leg is taken as normal`,
  },
  'place-unnamed': {
    severity: 'caution',
    why: 'A free end without a name makes routes that start and finish nowhere in particular.',
    say: (ids, v) => `an end of ${word(v, 'strip')} has no name: routes start and finish there as ${ids[0]}`,
  },
  'lever-works-nothing-there': {
    severity: 'wrong',
    why: 'A lever works a point that is not on the plan.',
    say: (ids, v) => `lever ${ids[0]} works ${word(v, 'point')}, and there is no such point`,
  },
  'lever-works-nothing': {
    severity: 'caution',
    why: 'A lever that works nothing is a hole in the face.',
    say: (ids) => `lever ${ids[0]} works nothing`,
  },
  'lever-joins-nothing': {
    severity: 'caution',
    why: 'A lever that makes a way from place to place in neither position works its points against each other, or leads where nothing has a name.',
    say: (ids, v) =>
      number(v, 'routes') > 0
        ? `lever ${ids[0]} joins no two places in either position: every route over ${word(v, 'points')} asks them otherwise than it works them`
        : `lever ${ids[0]} joins no two places in either position: no route passes ${word(v, 'points')}`,
  },
  'point-worked-twice': {
    severity: 'wrong',
    why: 'Two levers on one point fight: the point lies as the last one says, and lamps of the other lie.',
    say: (ids, v) => `${ids[0]} is worked by ${word(v, 'levers')}: only one lever can work a point`,
  },
  'point-worked-by-none': {
    severity: 'caution',
    why: 'A point that no lever works stays as it lies; its routes cannot be set from the panel.',
    say: (ids) => `no lever works ${ids[0]}`,
  },
  'three-way-both-reverse': {
    severity: 'caution',
    why: 'A three-way point has no way for both halves reverse: the blades of one bar those of the other.',
    say: (ids, v) =>
      `${list(ids)} are one three-way point, and ${word(v, 'levers')} ${word(v, 'can')} both reverse, which no way asks`,
  },
  // ---- routes
  'route-not-settable': {
    severity: 'caution',
    why: 'The levers, as they are grouped, cannot set a route that the track has.',
    say: (_ids, v) =>
      `${word(v, 'from')} to ${word(v, 'to')} cannot be set: ${word(v, 'reason')}${number(v, 'more') > 0 ? `; and ${number(v, 'more')} more routes` : ''}`,
  },
  'routes-cut': {
    severity: 'caution',
    why: 'There are more routes than are listed.',
    say: (_ids, v) =>
      `${word(v, 'counted') === 'exact' ? '' : 'at least '}${word(v, 'count')} routes: only ${number(v, 'limit')} are listed; ask for those between two places`,
  },
  'place-reaches-nothing': {
    severity: 'caution',
    why: 'A place from which no train can reach another place was probably meant to be joined.',
    say: (ids, v) => `no route leads to or from ${word(v, 'name') || (ids[0] ?? '')}`,
  },
  // ---- switches
  'switch-unknown': {
    severity: 'wrong',
    why: 'A lever names a switch that is not in the catalogue.',
    say: (ids, v) => `lever ${ids[0]}: there is no switch called ${word(v, 'part')}; ${word(v, 'standIn')} stands in`,
  },
  'switch-too-few-poles': {
    severity: 'wrong',
    why: 'A reversing feed takes two poles, every other one, and each root of lamps on spare poles one more.',
    say: (ids, v) =>
      `lever ${ids[0]}: ${word(v, 'part')} has ${number(v, 'has')} ${number(v, 'has') === 1 ? 'pole' : 'poles'}, and its feed and lamps take ${number(v, 'needs')}`,
  },
  'switch-sprung': {
    severity: 'wrong',
    why: 'A feed that must be held is cut when a sprung lever is let go: a stall drive relaxes, and lamps across the feed go dark.',
    say: (ids, v) =>
      `lever ${ids[0]}: ${word(v, 'part')} springs back, and then its drives have no feed and its lamps are dark`,
  },
  'twin-unfit': {
    severity: 'wrong',
    why: 'Not every feed can be worked from two panels: a charge would go out and back whole, a switch that stays holds a coil until it burns, and what hands or addresses move has no wire to share.',
    say: (ids, v) =>
      `lever ${ids[0]} and ${word(v, 'lever')} on the panel ${word(v, 'panel')}: ${TWIN_UNFIT[word(v, 'why')]?.(v) ?? word(v, 'why')}`,
  },
  'twin-bat-says-nothing': {
    severity: 'hint',
    why: 'Of two switches one before the other each turns over what the other asks: only lamps on the feed, on the drive or on the blades tell the lie. Both panels hang on one supply.',
    say: (ids, v) =>
      `the bat of lever ${ids[0]} does not say the lie: ${word(v, 'lever')} on the panel ${word(v, 'panel')} turns it over as well; go by the lamps, and feed both panels from the one supply and its fuse`,
  },
  'switch-centre-silent': {
    severity: 'hint',
    why: 'With a centre-off lever in the middle lamps that it feeds go dark: the panel no longer says how the points lie.',
    say: (ids) => `lever ${ids[0]} can stand in the middle: then its lamps are dark and say nothing`,
  },
  'contact-makes-too-much': {
    severity: 'caution',
    why: 'A contact that closes on more than its rating wears its surface, and far above it welds.',
    say: (ids, v) =>
      `${ids[0]} closes on ${A(v, 'amps')}, and ${word(v, 'part')} is made for ${A(v, 'most')}: ${number(v, 'amps') > number(v, 'welds') ? 'it may weld' : 'it wears where it is thrown often'}`,
  },
  'contact-wets-too-little': {
    severity: 'caution',
    why: 'Silver tarnishes: a current that is too small does not clear the film, and lamps stay dark now and then.',
    say: (ids, v) =>
      `${list(ids)} ${ids.length > 1 ? 'pass' : 'passes'} ${A(v, 'amps')}, and ${word(v, 'plating')} wants ${A(v, 'least')}: tarnish may stop it`,
  },
  'switch-overloaded': {
    severity: 'wrong',
    why: 'A contact that carries more than it is made for wears out or welds.',
    say: (ids, v) =>
      `lever ${ids[0]}: each pole carries ${A(v, 'amps')}, and ${word(v, 'part')} is made for ${A(v, 'most')}`,
  },
  // ---- lamps
  'lamp-part-unknown': {
    severity: 'wrong',
    why: 'A lamp names a part that is not in the catalogue.',
    say: (ids, v) => `lamp ${ids[0]}: there is no lamp called ${word(v, 'part')}; the usual one stands in`,
  },
  'lamp-claims-nothing': {
    severity: 'wrong',
    why: 'A lamp that lies on no leg of any point, and is told nothing, has nothing to say.',
    say: (ids) => `lamp ${ids[0]} lies on no leg of a point and is not told what to show`,
  },
  'lamp-point-unknown': {
    severity: 'wrong',
    why: 'A lamp shows a point that is not on the plan.',
    say: (ids, v) => `lamp ${ids[0]} shows ${word(v, 'point')}, and there is no such point`,
  },
  'leg-without-lamp': {
    severity: 'hint',
    why: 'A route is read off a chain of lit lamps, one at least on every leg it passes; a leg without one breaks the chain.',
    say: (_ids, v) =>
      `no lamp shows ${word(v, 'legs')}: a route over ${number(v, 'count') > 1 ? 'them' : 'it'} cannot be read off the lamps`,
  },
  'lamp-denies-its-leg': {
    severity: 'wrong',
    why: 'A lamp on one leg that is lit when the other leg is set tells an untruth to anyone who looks.',
    say: (ids, v) => `lamp ${ids[0]} lies on the leg ${word(v, 'leg')} and shows ${word(v, 'shows')}`,
  },
  'lamp-needs-two-levers': {
    severity: 'wrong',
    why: 'A lamp across one feed knows one lever only.',
    say: (ids, v) =>
      `lamp ${ids[0]} would have to know ${word(v, 'levers')}: across the feed it can know one lever only`,
  },
  'lamp-point-has-no-lever': {
    severity: 'wrong',
    why: 'A lamp across the feed needs a lever that feeds.',
    say: (ids, v) => `lamp ${ids[0]} shows ${word(v, 'point')}, which no lever works`,
  },
  'lamp-never-or-always': {
    severity: 'wrong',
    why: 'A lamp that is never lit, or always, says nothing.',
    say: (ids) => `lamp ${ids[0]} would be lit always or never`,
  },
  'lamp-scheme-unfit': {
    severity: 'wrong',
    why: 'What lights lamps on one kind of drive or feed does not on another: the lamp would stay dark or lie.',
    say: (ids, v) => `lamp ${ids[0]} cannot be lit ${word(v, 'scheme')}: ${word(v, 'why')}`,
  },
  'lamp-contacts-short': {
    severity: 'wrong',
    why: 'Every lamp that contacts light needs a changeover that nothing else takes.',
    say: (ids, v) =>
      `lamp ${ids[0]} finds no contact on ${word(v, 'carrier')}: ${number(v, 'has')} free for lamps, ${number(v, 'needs')} wanted`,
  },
  'lamp-several-ways': {
    severity: 'wrong',
    why: 'A chain of contacts is one way: a lamp that several ways light would join them.',
    say: (ids, v) => `lamp ${ids[0]} would be lit in ${number(v, 'ways')} ways: one chain of contacts can say one`,
  },
  'group-apart': {
    severity: 'wrong',
    why: 'Lamps behind one resistor hang on one contact, or on both its throws: others could be lit together and share the current.',
    say: (ids, v) => `group ${ids[0]}: ${word(v, 'lamps')} hang elsewhere than the first and stand by themselves`,
  },
  'group-lamp-unknown': {
    severity: 'wrong',
    why: 'A group names a lamp that is not in the file.',
    say: (ids, v) => `group ${ids[0]} holds ${word(v, 'lamp')}, and there is no such lamp`,
  },
  'group-lamp-twice': {
    severity: 'wrong',
    why: 'A lamp has two leads and can stand in one group only.',
    say: (ids, v) => `lamp ${ids[0]} is in ${word(v, 'groups')}: it counts in the first`,
  },
  'group-two-levers': {
    severity: 'wrong',
    why: 'Lamps behind one resistor hang on one lever.',
    say: (ids, v) => `group ${ids[0]} holds lamps of ${word(v, 'levers')}: one resistor hangs on one lever`,
  },
  'group-not-a-pair': {
    severity: 'wrong',
    why: 'A pair is one lamp each way; more of them side by side share badly.',
    say: (ids, v) =>
      `group ${ids[0]} is called a pair and holds ${number(v, 'normal')} lamps one way and ${number(v, 'reverse')} the other`,
  },
  'lamp-lies': {
    severity: 'wrong',
    why: 'A lamp that shows what is not so, or fails to show what is, is worse than no lamp.',
    say: (ids, v) =>
      `lamp ${ids[0]} is ${word(v, 'shown')} with ${word(v, 'setting')}, and should be ${word(v, 'should')}`,
  },
  'lamp-lies-at-power-up': {
    severity: 'caution',
    why: 'When the supply comes on nothing moves these points: until the first throw the lamps tell how the lever or the relay was left, not how the blades lie.',
    say: (ids, v) =>
      `${list(ids)} may show what is not so when the supply comes on, as with ${word(v, 'setting')}: throw each lever once before you trust them`,
  },
  'lamps-unfed': {
    severity: 'wrong',
    why: 'Lamps of a lever that nothing feeds are dark whatever is set.',
    say: (ids, v) =>
      `${list(ids)} ${ids.length > 1 ? 'stay' : 'stays'} dark: nothing feeds lever ${word(v, 'lever')} as it stands`,
  },
  'lamp-doubtful': {
    severity: 'caution',
    why: 'Over the bands of its parts the lamp may be seen or not.',
    say: (ids, v) =>
      `lamp ${ids[0]} is doubtful with ${word(v, 'setting')}: ${A(v, 'low')} to ${A(v, 'high')}, lit from ${A(v, 'seen')}, dark up to ${A(v, 'dark')}`,
  },
  'lamp-faint': {
    severity: 'caution',
    why: 'Just above what is seen indoors: lost in a bright hall.',
    say: (ids, v) =>
      `${list(ids)} ${ids.length > 1 ? 'are' : 'is'} faint: ${A(v, 'amps')}, seen from ${A(v, 'seen')}, pleasant from ${A(v, 'good')}`,
  },
  'lamp-over-max': {
    severity: 'wrong',
    why: 'Above its greatest current a lamp ages fast.',
    say: (ids, v) =>
      `${list(ids)} ${ids.length > 1 ? 'carry' : 'carries'} ${A(v, 'amps')}, more than the ${A(v, 'max')} that the part stands`,
  },
  'lamp-destroyed': {
    severity: 'danger',
    why: 'Above twice its greatest current a lamp is destroyed, and may get hot.',
    say: (ids, v) => `${list(ids)} would be destroyed: ${A(v, 'amps')} where ${A(v, 'max')} is the most`,
  },
  'lamp-may-be-over-max': {
    severity: 'caution',
    why: 'At the edge of the bands a lamp carries more than its greatest current.',
    say: (ids, v) => `${list(ids)} may carry up to ${A(v, 'high')}: ${A(v, 'max')} is the most`,
  },
  'lamp-reverse-doubtful': {
    severity: 'caution',
    why: 'Leakage, and not number, divides reverse volts over dark lamps in series.',
    say: (ids, v) =>
      `dark ${list(ids)} ${ids.length > 1 ? 'stand' : 'stands'} under ${V(v, 'volts')} in reverse: above ${V(v, 'each')}, and leakage divides it, not number`,
  },
  'lamp-reverse-wrong': {
    severity: 'wrong',
    why: 'Lamps stand about 5 V in reverse; more destroys them sooner or later.',
    say: (ids, v) =>
      `dark ${list(ids)} ${ids.length > 1 ? 'stand' : 'stands'} under ${V(v, 'volts')} in reverse, and ${V(v, 'limit')} is the most`,
  },
  'guards-short-lamps': {
    severity: 'wrong',
    why: 'Lamps that face each other behind one resistor guard each other; a guard diode as well takes the current of the lit ones.',
    say: (ids, v) =>
      `group ${ids[0]}: lamps of both ways share a resistor, so guards of the dark ones hold ${V(v, 'guards')} where the lit ones want ${V(v, 'lamps')}`,
  },
  'lamps-share-badly': {
    severity: 'wrong',
    why: 'Lamps of unlike forward volts side by side behind one resistor: nearly all goes through the lowest.',
    say: (ids, v) =>
      `${list(ids)} share one resistor and differ by ${V(v, 'apart')}: nearly all goes through ${word(v, 'lowest')}`,
  },
  'lamps-share': {
    severity: 'caution',
    why: 'Lamps of one type side by side behind one resistor share by their forward volts, which differ from one to the next.',
    say: (ids, v) => `${list(ids)} share one resistor: from one bag they may differ ${times(v, 'ratio')} to 1`,
  },
  'resistor-headroom': {
    severity: 'caution',
    why: 'With less than a quarter of the feed left for the resistor, small differences in the lamps change the current much.',
    say: (ids, v) =>
      `${ids[0]}: the lamps leave ${V(v, 'left')} of ${V(v, 'feed')} for the resistor, less than a quarter, and the current may be ${A(v, 'low')} to ${A(v, 'high')}`,
  },
  'resistor-not-preferred': {
    severity: 'hint',
    why: 'A value that is not in E24 is not in the usual drawer.',
    say: (ids, v) => `${ids[0]}: ${R(v, 'ohms')} is not an E24 value; ${R(v, 'nearest')} is the nearest`,
  },
  'resistor-hot': {
    severity: 'caution',
    why: 'A resistor that must shed more than half a watt gets hot enough to burn a finger and wants air.',
    say: (ids, v) => `${ids[0]} sheds ${W(v, 'watts')}: use one of ${W(v, 'rating')} and keep it off the wires`,
  },
  'lamps-uneven': {
    severity: 'caution',
    why: 'Lamps whose brightness (current times efficiency) differs more than 2 to 1 over a panel read as different signals.',
    say: (ids, v) =>
      `${ids[0]} at ${A(v, 'high')} is ${times(v, 'ratio')} times as bright as ${ids[1]} at ${A(v, 'low')}, where 2 to 1 is the most`,
  },
  // ---- drives
  'drive-unknown': {
    severity: 'wrong',
    why: 'A point names a drive that is neither a record nor a part.',
    say: (ids, v) => `${ids[0]}: there is no drive called ${word(v, 'drive')}; a stall drive stands in`,
  },
  'drive-part-unknown': {
    severity: 'wrong',
    why: 'A drive names a part that is not in the catalogue.',
    say: (ids, v) => `drive ${ids[0]}: there is no part called ${word(v, 'part')}; a stall drive stands in`,
  },
  'drive-kind-unfit': {
    severity: 'wrong',
    why: 'Each kind of drive wants a feed of its own kind; on another it does not move, or does not stay.',
    say: (ids, v) => `drive ${ids[0]}: ${word(v, 'part')} cannot be worked by ${feed(v)}: ${word(v, 'because')}`,
  },
  'drive-would-burn': {
    severity: 'danger',
    why: 'A twin-coil drive held on a raw supply burns.',
    say: (ids, v) =>
      `drive ${ids[0]} is a twin-coil: held on ${V(v, 'volts')} its coil of ${R(v, 'ohms')} draws ${A(v, 'amps')} and sheds ${W(v, 'watts')} until it burns`,
  },
  'drive-two-levers': {
    severity: 'wrong',
    why: 'A drive whose points are worked by two levers would be asked two things at once.',
    say: (ids, v) => `drive ${ids[0]} moves points of ${word(v, 'levers')}: one lever must work all of them`,
  },
  'drive-pulled-both-ways': {
    severity: 'wrong',
    why: 'One lever asks one drive to go both ways at once.',
    say: (ids, v) => `lever ${word(v, 'lever')} asks drive ${ids[0]} to go both ways at once`,
  },
  'drive-volts-low': {
    severity: 'wrong',
    why: 'Below its range a drive does not move, or does not hold the blades.',
    say: (ids, v) => `drive ${ids[0]} gets ${V(v, 'volts')} and wants ${V(v, 'least')} at least`,
  },
  'drive-volts-high': {
    severity: 'wrong',
    why: 'Above its range a drive overheats or strips its gears.',
    say: (ids, v) => `drive ${ids[0]} gets ${V(v, 'volts')} and stands ${V(v, 'most')} at most`,
  },
  'drive-volts-edge': {
    severity: 'hint',
    why: 'Nominally the drive is within its range, at the edge of the supply it is not.',
    say: (ids, v) =>
      `${list(ids)}: ${V(v, 'volts')} at the edge of the supply's band is outside ${V(v, 'least')} to ${V(v, 'most')}`,
  },
  'throw-too-weak': {
    severity: 'wrong',
    why: 'A pulse that is too small or too short leaves the blades where they were, or half way.',
    say: (ids, v) =>
      `drive ${ids[0]} gets ${A(v, 'amps')} at the peak, above ${A(v, 'throwAmps')} for ${seconds(v, 'seconds')}: it wants ${A(v, 'throwAmps')} for ${seconds(v, 'least')}`,
  },
  'drive-wire-drop': {
    severity: 'caution',
    why: 'Thin wire over a long way keeps volts from the drive.',
    say: (ids, v) => `drive ${ids[0]}: its wires lose ${V(v, 'lost')} of ${V(v, 'volts')}`,
  },
  'drive-wire-guessed': {
    severity: 'hint',
    why: 'Where no length is given, 3 m one way stands in.',
    say: (ids, v) => `no wire length is given for ${list(ids)}: ${mm(v, 'length')} one way is a guess`,
  },
  // ---- frogs
  'frog-unfed': {
    severity: 'caution',
    why: 'A live frog takes its polarity from a contact; without one a locomotive stops on it or shorts the rails.',
    say: (ids, v) => `frog ${ids[0]} of ${word(v, 'of')} is live and nothing feeds it`,
  },
  'frog-contact-missing': {
    severity: 'wrong',
    why: 'A drive has so many contacts, and each feeds one thing.',
    say: (ids, v) =>
      `frog ${ids[0]} asks for ${word(v, 'contact')}, and ${word(v, 'drive')} has ${number(v, 'has')} contacts`,
  },
  'contacts-overdrawn': {
    severity: 'wrong',
    why: 'Contacts that a drive has, less one for each frog that it feeds, less one for each root of lamps: below nothing a live frog has no feed, and a locomotive stops on it or shorts the rails.',
    say: (ids, v) =>
      `drive ${ids[0]} has ${number(v, 'has')} ${number(v, 'has') === 1 ? 'contact' : 'contacts'} and owes ${number(v, 'needs')}: ${number(v, 'frogs')} to frogs, ${number(v, 'lamps')} to lamps; ${list(ids.slice(1))} ${ids.length > 2 ? 'have' : 'has'} none`,
  },
  'contact-used-twice': {
    severity: 'wrong',
    why: 'A contact feeds one frog, or lamps; two things on one contact are joined to each other.',
    say: (ids, v) => `contact ${ids[0]} is given to ${word(v, 'by')}`,
  },
  'frog-contact-small': {
    severity: 'caution',
    why: 'A contact that feeds a frog carries the booster\u2019s limit when a train is across it, and welds above its rating.',
    say: (ids, v) =>
      `${list(ids)}: the booster trips at ${A(v, 'amps')}, and the contact that feeds ${ids.length > 1 ? 'each' : 'it'} is made for ${A(v, 'most')}`,
  },
  'frog-own-end': {
    severity: 'wrong',
    why: 'In a slip the blades of one end choose the exit at the other: its frog is fed from the other end\u2019s drive.',
    say: (ids, v) =>
      `frog ${ids[0]} at ${word(v, 'of')} is fed from ${word(v, 'from')}, its own end of the slip: the drive of ${word(v, 'other')} must feed it`,
  },
  'frog-through-panel': {
    severity: 'wrong',
    why: 'A frog carries the booster\u2019s current: its feed stays under the layout, never through the panel\u2019s connector.',
    say: (ids) => `pin ${ids[0]} is given to frog ${ids[1]}: its feed stays under the layout`,
  },
  // ---- the track
  'reversing-section': {
    severity: 'hint',
    why: 'Where a train can come back turned round, left rail meets right: gaps and a feed that changes over are wanted.',
    say: (ids, v) =>
      `track beyond ${ids[0]} brings a train back turned round: there left rail meets right, and ${stretch(v)} can be the reversing section`,
  },
  'reversing-section-uncut': {
    severity: 'danger',
    why: 'Where left rail meets right without a gap in both rails at both ends, the two bus wires are joined: a short.',
    say: (ids, v) =>
      `track beyond ${ids[0]} brings a train back turned round, and the gaps of the file do not cut it off: ${stretch(v)} wants one in both rails at each end`,
  },
  'reversing-section-short': {
    severity: 'caution',
    why: 'A train longer than the reversing section stands over both ends at once, and joins what is apart there.',
    say: (ids, v) =>
      `the reversing section beyond ${ids[0]} is ${mm(v, 'length')} long, and ${word(v, 'train')} is ${mm(v, 'needs')}`,
  },
  'rails-short': {
    severity: 'danger',
    why: 'A rail on both bus wires is a short: all the amps of the booster go through one frog and its thin wires.',
    say: (ids, v) =>
      `${ids.length > 0 ? `${list(ids)} put${ids.length > 1 ? '' : 's'}` : 'something puts'} a rail on both bus wires ${word(v, 'when')}`,
  },
  'leg-dead': {
    severity: 'wrong',
    why: 'A train stops where no feed reaches both rails, though the point is set for it.',
    say: (ids, v) => `no power on the ${word(v, 'lie')} leg of ${ids[0]}, even with the point set for it`,
  },
  'track-spot-off': {
    severity: 'wrong',
    why: 'A feed or a gap that lies on no track does nothing.',
    say: (_ids, v) =>
      `${word(v, 'what')} ${number(v, 'number')} of the track lies on no strip: none is within ${mm(v, 'reach')} of it`,
  },
  'short-not-seen': {
    severity: 'danger',
    why: 'A short that the booster does not see puts all its amps into one wire or joint until something melts.',
    say: (ids, v) =>
      `a coin across the rails at the far end draws ${A(v, 'amps')} at most, and ${ids[0]} wants ${A(v, 'needs')} to trip for sure`,
  },
  'bus-drop-large': {
    severity: 'caution',
    why: 'Trains slow down, and decoders drop out, where too many volts are lost on the way.',
    say: (ids, v) =>
      `the bus of ${ids[0]} loses ${V(v, 'drop')} of ${V(v, 'volts')} at ${A(v, 'amps')}; ${V(v, 'most')} is usual at most`,
  },
  'bus-wire-thin': {
    severity: 'danger',
    why: 'A bus thinner than what the booster gives before it trips gets hot in every short that is not quite one.',
    say: (ids, v) => `the bus is made for ${A(v, 'most')}, and ${ids[0]} gives ${A(v, 'amps')} before it trips`,
  },
  // ---- decoders
  'decoder-no-address': {
    severity: 'wrong',
    why: 'A decoder is told by an address: without one nothing can throw it.',
    say: (ids) =>
      `${decoders(ids)} ${ids.length > 1 ? 'are told by an address and have none' : 'is told by an address and has none'}`,
  },
  'decoder-address-range': {
    severity: 'wrong',
    why: 'The bus has no pair of outputs for this address.',
    say: (ids, v) =>
      `${list(ids)}: no decoder can have address ${word(v, 'addresses')}; addresses run from 1 to ${number(v, 'last')}`,
  },
  'decoder-address-broadcast': {
    severity: 'wrong',
    why: 'Board 511 is the broadcast: a command for it throws every decoder on the bus.',
    say: (ids, v) =>
      `${list(ids)}: address ${word(v, 'addresses')} is on board 511, the broadcast, which every decoder obeys; the last address is ${number(v, 'last')}`,
  },
  'decoder-address-twice': {
    severity: 'caution',
    why: 'Decoders of one address always throw together: right for a pair that is meant so, and for no other.',
    say: (ids, v) =>
      `${list(ids)} share address ${number(v, 'address')} (board ${number(v, 'board')}, pair ${number(v, 'pair')}) and always throw together`,
  },
  'decoder-numbering-unsaid': {
    severity: 'hint',
    why: 'Address 1 is on board 1 by one way to count and on board 0 by the other, four addresses apart: by the wrong one another point throws.',
    say: (_ids, v) =>
      `the file does not say which board address 1 is on; it is taken to be board 1, and by the other way to count address ${number(v, 'address')} would be ${number(v, 'address') + 4}`,
  },
  'decoder-track-analogue': {
    severity: 'wrong',
    why: 'A decoder takes its commands from a digital bus, and an analogue track carries none.',
    say: (ids) =>
      `the track is analogue, and accessories have no bus of their own: nothing tells ${decoders(ids)} what to do`,
  },
  'decoder-stops-with-track': {
    severity: 'caution',
    why: 'A short on the track trips the booster, and then no decoder on that bus can throw the point that would clear it.',
    say: (ids) =>
      `a short on the track stops ${decoders(ids)} too: ${ids.length > 1 ? 'they hang' : 'it hangs'} on its bus`,
  },
  'decoder-trips-bus': {
    severity: 'wrong',
    why: 'A bus that trips at every throw moves nothing.',
    say: (ids, v) =>
      `${list(ids)} ${ids.length > 1 ? 'draw' : 'draws'} ${A(v, 'amps')} in one throw, and the bus trips at ${A(v, 'trip')}`,
  },
  'decoders-trip-at-power-up': {
    severity: 'caution',
    why: 'Decoders may all throw at once when the bus is switched on; a booster that trips then never starts.',
    say: (_ids, v) =>
      `${number(v, 'count')} decoders that throw at once, as they may at power-up, draw ${A(v, 'amps')}, and the bus trips at ${A(v, 'trip')}`,
  },
  'address-without-decoder': {
    severity: 'hint',
    why: 'Only a decoder answers to an address.',
    say: (ids, v) => `drive ${ids[0]} has address ${number(v, 'address')}, and ${word(v, 'part')} answers to none`,
  },
  // ---- supplies
  'feed-one-supply': {
    severity: 'wrong',
    why: 'A split feed is made of two equal, isolated supplies, plus above and minus below the common return.',
    say: (ids, v) => `lever ${ids[0]} asks for a ${word(v, 'feed')} feed, which wants two supplies`,
  },
  'feed-no-capacitor': {
    severity: 'wrong',
    why: 'A charge feed throws with what its capacitor takes and gives.',
    say: (ids, v) => `lever ${ids[0]} asks for a ${word(v, 'feed')} feed, and the file gives no capacitor (farads)`,
  },
  'supplies-not-isolated': {
    severity: 'danger',
    why: 'Two supplies made into one plus and minus short each other where both minuses are earthed or of one transformer.',
    say: (ids, v) => `${list(ids)} make a split feed, and ${word(v, 'which')} is not isolated`,
  },
  'half-wave-flickers': {
    severity: 'caution',
    why: 'Half a wave without a capacitor gives drives few volts on the average, and lamps that flash once a cycle.',
    say: (ids, v) =>
      `supply ${ids[0]} feeds half waves that nothing smooths: ${V(v, 'volts')} on the average and ${number(v, 'flashes')} flashes a second; a capacitor at each diode makes it ${V(v, 'smoothed')}`,
  },
  'supplies-unequal': {
    severity: 'caution',
    why: 'A split feed of unequal halves drives harder one way than the other.',
    say: (ids, v) => `${list(ids)} make a split feed of ${V(v, 'plus')} and ${V(v, 'minus')}`,
  },
  'return-unknown': {
    severity: 'wrong',
    why: 'A return names a lever that is not there, or one that comes back to another supply.',
    say: (ids, v) =>
      v.back === undefined
        ? `return ${ids[0]} names ${word(v, 'lever')}, and there is no such lever with a circuit`
        : `return ${ids[0]} goes to ${word(v, 'supply')}, and ${word(v, 'lever')} comes back to ${word(v, 'back')}: it is left out`,
  },
  'coil-held-by-unit': {
    severity: 'wrong',
    why: 'A switch that stays holds the unit on one coil: it never charges again, and nothing else on it works.',
    say: (ids, v) =>
      `lever ${word(v, 'lever')} stays where it is thrown and holds ${ids[0]} on ${word(v, 'supply')}: the unit cannot charge again`,
  },
  'button-unfit': {
    severity: 'wrong',
    why: 'A push button gives a pulse: only a drive of two coils on a pulse feed moves by it.',
    say: (ids, v) => `button ${ids[0]} cannot throw ${word(v, 'point')}: ${word(v, 'why')}`,
  },
  'supply-unknown': {
    severity: 'wrong',
    why: 'A feed names a supply that is not in the file.',
    say: (ids, v) => `lever ${word(v, 'by')} is fed from ${ids[0]}, and there is no such supply`,
  },
  'supply-kind-unfit': {
    severity: 'wrong',
    why: 'Each kind of feed wants a supply of its own kind.',
    say: (ids, v) => `supply ${ids[0]} is ${word(v, 'kind')}: ${feed(v)} wants ${word(v, 'wants')}`,
  },
  'supply-from-track': {
    severity: 'danger',
    why: 'The panel must never be joined to the rails or to the digital bus.',
    say: (ids) => `supply ${ids[0]} is the track: never join the panel's supply to the rails or the digital bus`,
  },
  'supply-not-isolated': {
    severity: 'danger',
    why: 'A supply that is not isolated from the mains can kill.',
    say: (ids) =>
      `supply ${ids[0]} is said not to be isolated: use a plug-in, isolated, certified supply; mains work belongs to a licensed electrician`,
  },
  'supply-not-low-voltage': {
    severity: 'danger',
    why: 'Extra-low voltage only: above 25 V AC or 60 V DC bare parts may not be touched.',
    say: (ids, v) =>
      `supply ${ids[0]} gives ${V(v, 'volts')}: a panel keeps to extra-low voltage, at most ${V(v, 'most')}`,
  },
  'supply-too-small': {
    severity: 'wrong',
    why: 'What is always drawn is more than the supply gives.',
    say: (ids, v) => `supply ${ids[0]} gives ${A(v, 'has')}, and ${A(v, 'needs')} is drawn all the time`,
  },
  'supply-small-at-switch-on': {
    severity: 'wrong',
    why: 'Switching on is the worst draw: every drive that is not home moves at once.',
    say: (ids, v) =>
      `supply ${ids[0]} gives ${A(v, 'has')}, and at switch-on ${A(v, 'needs')} is drawn when every drive moves at once`,
  },
  'supply-off-load-unknown': {
    severity: 'hint',
    why: 'An unregulated supply gives far more with nothing on it: one meter reading tells.',
    say: (ids, v) =>
      `supply ${ids[0]}: measure it with nothing on it and enter the volts; an unregulated ${V(v, 'volts')} may give ${V(v, 'maybe')}`,
  },
  'fuse-above-wire': {
    severity: 'danger',
    why: 'Thin wire melts before a fuse that is rated above it blows.',
    say: (ids, v) =>
      `fuse ${ids[0]} of ${A(v, 'fuse')} guards wire of ${formatNumber(number(v, 'gauge'), 2)} mm2, which carries ${A(v, 'wire')}`,
  },
  'fuse-none': {
    severity: 'danger',
    why: 'Without a fuse or a limit a short heats the wire until it melts.',
    say: (ids, v) =>
      `supply ${ids[0]} has no fuse and no limit: ${A(v, 'amps')} into wire that carries ${A(v, 'wire')}`,
  },
  'fuse-too-small': {
    severity: 'wrong',
    why: 'A fuse below what is drawn blows.',
    say: (ids, v) => `fuse ${ids[0]} of ${A(v, 'fuse')} would blow: ${A(v, 'needs')} is drawn`,
  },
  'fuse-never-blows': {
    severity: 'caution',
    why: 'A supply that limits at its own rating may never blow a fuse of that rating: then the limit is the protection, and the wire must carry it.',
    say: (ids, v) => `fuse ${ids[0]} of ${A(v, 'fuse')} may never blow: the supply limits at ${A(v, 'amps')}`,
  },
  'limit-above-wire': {
    severity: 'danger',
    why: 'Where the supply limits before any fuse blows, the wire must carry that limit for good.',
    say: (ids, v) =>
      `supply ${ids[0]} limits at ${A(v, 'amps')}, and wire of ${formatNumber(number(v, 'gauge'), 2)} mm2 carries ${A(v, 'wire')}`,
  },
  // ---- connectors and wires
  'connector-part-unknown': {
    severity: 'wrong',
    why: 'A connector names a part that is not in the catalogue.',
    say: (ids, v) => `connector ${ids[0]}: there is no part called ${word(v, 'part')}; the usual one stands in`,
  },
  'connector-full': {
    severity: 'wrong',
    why: 'Wires that find no pin cannot leave the panel.',
    say: (ids, v) =>
      `no pin is left for ${list(ids)}: ${number(v, 'needs')} pins are wanted and the connectors have ${number(v, 'has')}`,
  },
  'connector-spare-used': {
    severity: 'caution',
    why: 'One pin in eight kept spare saves a connector next winter.',
    say: (ids, v) =>
      `connector ${ids[0]} keeps ${number(v, 'free')} pins spare, and ${number(v, 'wanted')} were wanted`,
  },
  'connectors-alike': {
    severity: 'caution',
    why: 'Two equal shells side by side get swapped.',
    say: (ids) => `${list(ids)} can be swapped: key them by size, gender or code pins`,
  },
  'connector-live-pins': {
    severity: 'caution',
    why: 'The half that stays live when parted gets the socket, so that nothing can touch its contacts.',
    say: (ids) => `connector ${ids[0]}: the panel's half stays live when parted and has bare pins; give it the socket`,
  },
  'pin-unknown': {
    severity: 'wrong',
    why: 'A pin that the connector does not have.',
    say: (ids, v) => `connector ${ids[0]} has no pin ${word(v, 'pin')}`,
  },
  'pin-leads-nowhere': {
    severity: 'wrong',
    why: 'A pin is given to a tag that is not there.',
    say: (ids, v) => `pin ${ids[0]} is given to ${word(v, 'to')}, and there is no such tag to feed`,
  },
  'pin-pair-apart': {
    severity: 'caution',
    why: 'The two wires of a drive are kept together: one cut, one colour with its second, one place to look.',
    say: (ids, v) => `the two wires of drive ${ids[0]} leave by ${word(v, 'pins')}, which are not side by side`,
  },
  'pin-overloaded': {
    severity: 'wrong',
    why: 'A pin that carries more than it is made for heats its shell.',
    say: (ids, v) =>
      `pin ${ids[0]} carries ${A(v, 'amps')}, and one way of ${word(v, 'part')} is made for ${A(v, 'most')}`,
  },
  'wire-joins-nothing': {
    severity: 'wrong',
    why: 'A wire in the file joins two ends that nothing joins.',
    say: (ids, v) => `wire ${ids[0]} from ${word(v, 'from')} to ${word(v, 'to')} belongs to no circuit`,
  },
  'wire-colour-unknown': {
    severity: 'wrong',
    why: 'Wire colours are given by the letters of IEC 60757.',
    say: (ids, v) => `wire ${ids[0]}: ${word(v, 'colour')} is not a colour in the letters of IEC 60757`,
  },
  'wire-green-and-yellow': {
    severity: 'wrong',
    why: 'Green with yellow is the protective earth and nothing else.',
    say: (ids) => `wire ${ids[0]} is green with yellow: that is the protective earth and nothing else`,
  },
  'circuit-unsolved': {
    severity: 'wrong',
    why: 'The network has no answer that holds.',
    say: (ids, v) => `the circuit at ${list(ids)} has no answer that holds: ${word(v, 'reason')}`,
  },
  // ---- the face
  'off-the-face': {
    severity: 'wrong',
    why: 'What lies outside the sheet cannot be made.',
    say: (ids) => `${ids[0]} lies outside the face`,
  },
  'holes-clash': {
    severity: 'wrong',
    why: 'Two holes that run into each other, or nearly, break the sheet between them.',
    say: (ids, v) =>
      number(v, 'gap') < 0
        ? `the holes of ${ids[0]} and ${ids[1]} run ${into(v, 'gap')} into each other`
        : `the holes of ${ids[0]} and ${ids[1]} leave ${mm(v, 'gap')} between them; ${mm(v, 'least')} is wanted`,
  },
  'hole-near-edge': {
    severity: 'caution',
    why: 'A hole too near the edge breaks out.',
    say: (ids, v) =>
      number(v, 'gap') < 0
        ? `the hole of ${ids[0]} runs ${into(v, 'gap')} over the edge`
        : `the hole of ${ids[0]} is ${mm(v, 'gap')} from the edge; ${mm(v, 'least')} is wanted`,
  },
  'bodies-clash': {
    severity: 'wrong',
    why: 'Holes that look fine from the front can foul at the back.',
    say: (ids, v) => `the bodies of ${ids[0]} and ${ids[1]} overlap by ${mm(v, 'overlap')} behind the face`,
  },
  'body-over-hole': {
    severity: 'wrong',
    why: 'A body behind the face covers another hole.',
    say: (ids) => `the body of ${ids[0]} covers the hole of ${ids[1]} behind the face`,
  },
  'nut-driver-fouls': {
    severity: 'caution',
    why: 'A nut driver needs more room than the nut.',
    say: (ids, v) => `a nut driver on ${ids[0]} meets ${ids[1]}: ${formatMillimetres(-number(v, 'gap'))} too near`,
  },
  'bats-too-close': {
    severity: 'caution',
    why: 'Toggles want 19 mm clear between bats, or a thumb throws two.',
    say: (ids, v) =>
      number(v, 'clear') < 0
        ? `the bats of ${ids[0]} and ${ids[1]} meet: ${mm(v, 'least')} between them is wanted`
        : `${ids[0]} and ${ids[1]} leave ${mm(v, 'clear')} between bats; ${mm(v, 'least')} is wanted`,
  },
  'hole-cuts-tape': {
    severity: 'caution',
    why: 'A hole as wide as the tape cuts it in two.',
    say: (ids, v) =>
      `the hole of ${ids[0]} cuts the tape of ${word(v, 'strip')} in two: ${mm(v, 'drill')} in ${mm(v, 'width')}`,
  },
  'lettering-small': {
    severity: 'caution',
    why: 'Lettering below 3 mm is not read at arm\u2019s length.',
    say: (ids, v) =>
      `the lettering of ${ids[0]} is ${mm(v, 'size')} high; ${mm(v, 'least')} is read at arm\u2019s length`,
  },
  'plates-overlap': {
    severity: 'caution',
    why: 'Plates that overlap cannot both be fixed.',
    say: (ids) => `plates ${ids[0]} and ${ids[1]} overlap`,
  },
  'plate-hides': {
    severity: 'caution',
    why: 'A plate over a lamp or a lever hides it.',
    say: (ids) => `plate ${ids[0]} hides ${ids[1]}`,
  },
  'in-keep-out': {
    severity: 'wrong',
    why: 'You asked for this area to be kept free.',
    say: (ids) => `${ids[0]} lies where you asked for nothing to be`,
  },
  'box-too-shallow': {
    severity: 'wrong',
    why: 'A switch, its tags and the bend of its wires must fit into the box.',
    say: (ids, v) => `${ids[0]} needs ${mm(v, 'needs')} behind the face, and the box has ${mm(v, 'has')}`,
  },
  'face-metal': {
    severity: 'hint',
    why: 'A metal sheet lies between the poles of every switch: a bare tag that touches it joins what should be apart.',
    say: (_ids, v) =>
      `the sheet is ${word(v, 'material')}: insulate it from both poles with grommets and sleeves, and leave isolated extra-low voltage unearthed`,
  },
  'relay-volts-low': {
    severity: 'wrong',
    why: 'A coil that gets too few volts does not pull, and its contacts stay as they are.',
    say: (ids, v) => `the coil of ${ids[0]} is made for ${V(v, 'coil')} and gets ${V(v, 'volts')}: it may not pull`,
  },
  'relay-volts-high': {
    severity: 'wrong',
    why: 'A coil that is held for hours on too many volts burns.',
    say: (ids, v) =>
      `the coil of ${ids[0]} is made for ${V(v, 'coil')} and gets ${V(v, 'volts')}: ${W(v, 'watts')} where it stands ${W(v, 'made')}`,
  },
  'not-built-yet': {
    severity: 'wrong',
    why: 'The file may hold more than circuits can be made of. It is kept, and does not work.',
    say: (ids, v) => `${ids[0]} asks for ${word(v, 'what')}: it is kept and not wired; ${word(v, 'why')}`,
  },
  'dimmer-on-drives': {
    severity: 'wrong',
    why: 'What dims lamps on the feed of a drive leaves the drive too few volts.',
    say: (ids, v) => `a dimmer on ${ids[0]} dims the feed of ${word(v, 'drives')} with the lamps`,
  },
  'dimmer-apart': {
    severity: 'hint',
    why: 'Ranges of the lamps go down to the dimmer\u2019s least. The dimmer itself is a part of your own choice: no drawing shows it.',
    say: (ids, v) =>
      `put the dimmer into the plus of ${ids[0]} behind ${word(v, 'fuse')}, by its data sheet: the drawings leave it out`,
  },
  'tape-on-paint': {
    severity: 'caution',
    why: 'Tape that is too like the paint is not seen.',
    say: (ids, v) =>
      `the tape of ${ids[0]} stands ${times(v, 'ratio')} to 1 against the paint; ${formatNumber(number(v, 'least'), 0)} to 1 is wanted`,
  },
} as const satisfies Readonly<Record<string, FindingCode>>;

export type Code = keyof typeof CODES;
