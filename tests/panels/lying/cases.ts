/**
 * Panels that are wired wrong, each in one way, and what must name it. What is expected follows from the trade alone: it is common
 * practice, no source, unless said. Beside each `<name>.mimic.json` stands `<name>.sound.mimic.json`, in which the one thing is right.
 */
import type { Code } from '../../../src/checks/index.ts';

/** A finding, by its code and one of the things that it is about. */
interface Finding {
  readonly by: 'finding';
  readonly code: Code;
  readonly at: string;
}

/** An entry of the truth of the healthy panel: the lamp, and the setting in which it lies. */
interface Entry {
  readonly by: 'untruth' | 'silent';
  readonly lamp: string;
  readonly levers: Readonly<Record<string, 'normal' | 'reverse' | 'centre'>>;
  readonly history?: Readonly<Record<string, 'normal' | 'reverse'>>;
}

/** A fault that makes a lamp lie: what begins its code. Beside it stands a panel on which no such fault does. */
interface Fault {
  readonly by: 'wrong-side';
  readonly fault: string;
}

export interface LyingCase {
  readonly name: string;
  /** What the lie is, and why. */
  readonly lie: string;
  readonly named: readonly (Finding | Entry | Fault)[];
}

const finding = (code: Code, at: string): Finding => ({ by: 'finding', code, at });

export const LYING: readonly LyingCase[] = [
  {
    name: 'spare-pole-of-a-twin',
    lie: 'two panels work the point through crossed two-pole toggles: a bat says nothing, and lamps on its spare pole lie',
    named: [finding('lamp-scheme-unfit', 'H1'), finding('lamp-scheme-unfit', 'H2')],
  },
  {
    name: 'pole-that-springs-back',
    lie: 'let go, the switch touches neither side: its poles light nothing, and the last throw is forgotten',
    named: [finding('lamp-scheme-unfit', 'H1'), finding('lamp-scheme-unfit', 'H2')],
  },
  {
    name: 'lamp-in-the-wrong-legs-group',
    lie: 'both lamps of the pair stand on the main line: neither guards the other, and each sees the whole feed in reverse',
    named: [finding('group-not-a-pair', 'G1'), finding('lamp-reverse-wrong', 'H1')],
  },
  {
    name: 'guards-short-the-other-way',
    lie: 'diodes across both lamps of an opposed pair: whichever way the feed stands, the guard of the one shorts the other',
    named: [
      finding('guards-short-lamps', 'G1'),
      { by: 'untruth', lamp: 'H1', levers: { L1: 'normal' } },
      { by: 'untruth', lamp: 'H2', levers: { L1: 'reverse' } },
    ],
  },
  {
    name: 'resistor-too-large',
    lie: '(12 - 1.7) / 100 kohm = 0.1 mA, and 0.2 mA are just seen: dark to the eye when it should be lit',
    named: [finding('lamp-lies', 'H1'), { by: 'untruth', lamp: 'H2', levers: { L1: 'reverse' } }],
  },
  {
    name: 'string-too-long',
    lie: 'six lamps of 1.73 V (1.85 V at 2 mA, less n Vt ln 10 = 0.12 V at 0.2 mA) want 10.4 V before they are seen, and the feed has 9',
    named: [finding('lamp-lies', 'H1'), { by: 'untruth', lamp: 'H6', levers: { L1: 'normal' } }],
  },
  {
    name: 'red-and-green-side-by-side',
    lie: 'red at 1.8 V and green at 2.7 V in parallel: all of the current is in the red one',
    named: [finding('lamps-share-badly', 'H2'), { by: 'untruth', lamp: 'H2', levers: { L1: 'normal' } }],
  },
  {
    name: 'contact-given-to-the-frog',
    lie: 'the only contact of the drive feeds the frog: nothing is left for lamps',
    named: [finding('lamp-contacts-short', 'H1'), finding('lamp-contacts-short', 'H2')],
  },
  {
    name: 'in-series-with-one-that-cuts-off',
    lie: 'the drive cuts itself off at the end of its travel, and the lamps on its way go dark with it',
    named: [finding('lamp-scheme-unfit', 'H1'), { by: 'untruth', lamp: 'H1', levers: { L1: 'normal' } }],
  },
  {
    name: 'across-a-pulse-feed',
    lie: 'after the pulse nothing is left on the feed to light a lamp',
    named: [finding('lamp-scheme-unfit', 'H1'), finding('lamp-scheme-unfit', 'H2')],
  },
  {
    name: 'claim-against-an-opposite-point',
    lie: 'the far point of the loop lies the other way, and its lamps were numbered as if it did not: each stands on the leg that it denies',
    named: [finding('lamp-denies-its-leg', 'H3'), finding('lamp-denies-its-leg', 'H4')],
  },
  {
    name: 'lever-against-an-opposite-point',
    lie: 'one drive moves both points the opposite way, and the lever asks both for the same lie: one of them never has it',
    named: [finding('drive-pulled-both-ways', 'D1')],
  },
  {
    name: 'dark-in-the-middle-and-speaks',
    lie: 'dark stands for the other leg; in the middle the lamp is dark while the point still lies to its own leg',
    named: [
      finding('lamp-lies', 'H1'),
      { by: 'untruth', lamp: 'H1', levers: { L1: 'centre' }, history: { P1: 'normal' } },
    ],
  },
  {
    name: 'all-dark-in-the-middle',
    lie: 'in the middle the panel no longer says how the point lies: allowed, and told',
    named: [
      finding('switch-centre-silent', 'L1'),
      { by: 'silent', lamp: 'H1', levers: { L1: 'centre' }, history: { P1: 'normal' } },
    ],
  },
  {
    name: 'route-lamp-on-one-lever',
    lie: 'the road is set only when both points lie to it, and a feed knows one lever alone',
    named: [finding('lamp-needs-two-levers', 'H5')],
  },
  {
    name: 'wires-of-two-levers-swapped',
    lie: 'the pin of one lever leads to a tag of the other drive: each drive is dead when the two levers agree',
    named: [finding('wire-joins-nothing', 'W50')],
  },
  {
    name: 'pins-built-otherwise',
    lie: 'what is soldered on two pins is not what the connector lists: the wires of two levers are swapped',
    named: [finding('pin-leads-nowhere', 'A.2'), finding('pin-leads-nowhere', 'A.3')],
  },
  {
    name: 'return-to-the-wrong-supply',
    lie: 'the common return of a split feed goes to the lamp supply: the drives have no way back',
    named: [finding('return-unknown', 'R0')],
  },
  {
    name: 'both-colours-on-one-lie',
    lie: 'both colours of a lamp of two leads stand for one lie: they face opposite ways, and only one of them can be lit',
    named: [finding('lamp-lies', 'H1B'), { by: 'untruth', lamp: 'H1B', levers: { L1: 'normal' } }],
  },
  {
    name: 'old-lamps-at-half-a-milliamp',
    lie: 'old lamps want 2 mA to be seen at all, and get 0.5',
    named: [finding('lamp-lies', 'H1'), { by: 'untruth', lamp: 'H2', levers: { L1: 'reverse' } }],
  },
  {
    name: 'four-lamps-before-a-motor',
    lie: 'each lamp in series takes its volts from the drive: of 12 V some 4 are left, and the drive wants 9',
    named: [finding('drive-volts-low', 'D1')],
  },
  {
    name: 'wire-to-the-drive-parted',
    lie: 'a pole knows what was asked: with the wire to the drive open the lamp says so of blades that stayed; a contact on the blades does not',
    named: [{ by: 'wrong-side', fault: 'apart:' }],
  },
  {
    name: 'link-unhooked',
    lie: 'a contact on the drive tells how its slider lies: with the link off the blades may lie otherwise; a contact on the blades moves with them',
    named: [{ by: 'wrong-side', fault: 'linkage:P1' }],
  },
];
