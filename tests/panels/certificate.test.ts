/**
 * Certificates are worked out again by a program that shares nothing with the one that made them, tests/oracle/check-certificate.mjs:
 * it takes what is right, and nothing that was changed. Its diode law, bands and rules are those of the description of the file format.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { TruthAnswer } from '../../src/cli/answer-schemas.ts';
import { truthAnswer } from '../../src/cli/answers.ts';
import { type Combination, combine } from '../../src/cli/combine.ts';
import { derive } from '../../src/derive.ts';
import { checkPanel, type PanelFile } from '../../src/panel/index.ts';
import { generatePanel } from '../generate/panels.ts';
import { type Random, randomOf } from '../generate/random.ts';
import { checkCertificate } from '../oracle/check-certificate.mjs';

const NO_FAULTS = {
  outcomes: [],
  faults: { tried: 0, rightSide: 0, wrongSide: 0, latent: 0 },
  wrongSide: [],
  share: 0,
  weightedShare: 0,
};

/** The answer as it is written; faults are no part of a certificate. */
function answerOf(panel: PanelFile): TruthAnswer {
  const derived = derive(panel);
  return JSON.parse(JSON.stringify(truthAnswer({ ...derived, faultTruth: () => NO_FAULTS, suggestions: () => [] })));
}

function example(name: string): PanelFile {
  const read = checkPanel(JSON.parse(readFileSync(`examples/${name}.mimic.json`, 'utf8')));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.panel;
}

const COMBINATIONS: readonly Combination[] = [
  { drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed', arrange: 'pair', guard: 'antiparallel' },
  { drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed', lamps: 3, arrange: 'parallel' },
  { drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed', lamps: 2, arrange: 'series' },
  { drive: 'stall-2-wire', feed: 'reversing', scheme: 'in-series' },
  { drive: 'stall-2-wire', feed: 'split', scheme: 'across-feed' },
  { drive: 'stall-2-wire', feed: 'half-wave', scheme: 'across-feed' },
  { drive: 'stall-2-wire', feed: 'reversing', scheme: 'drive-contact', switch: 'toggle-2p-centre-off' },
  { drive: 'limit-2-wire', feed: 'reversing', scheme: 'spare-pole' },
  { drive: 'limit-2-wire', feed: 'reversing', scheme: 'blade-contact', lamp: 'led-5-red-green-3c' },
  { drive: 'twin-coil-end-off', feed: 'pulse', scheme: 'drive-contact' },
  { drive: 'twin-coil', feed: 'charge', scheme: 'blade-contact' },
  { drive: 'twin-coil', feed: 'unit', scheme: 'latching-relay' },
  { drive: 'servo-board', feed: 'contact', scheme: 'spare-pole' },
  { drive: 'hand', feed: 'reversing', scheme: 'drive-contact' },
  { drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed', twin: 'two-way' },
  { drive: 'limit-2-wire', feed: 'split', scheme: 'drive-contact', twin: 'two-way', switch: 'toggle-1p-centre-off' },
  { drive: 'servo-board', feed: 'contact', scheme: 'blade-contact', twin: 'two-way' },
  { drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed', twin: 'latch' },
  { drive: 'stall-2-wire', feed: 'split', scheme: 'latching-relay', twin: 'latch', switch: 'toggle-1p-sprung' },
  { drive: 'twin-coil', feed: 'unit', scheme: 'latching-relay', twin: 'latch' },
];

const nameOf = ({ drive, feed, scheme, ...more }: Combination) =>
  [drive, feed, scheme, ...Object.values(more)].join(' ');

describe('a certificate', () => {
  it.each(['bramble-siding', 'quillhaven-harbour'])('[CE1] of %s is worked out again, every lamp of it', (name) => {
    const panel = example(name);
    const counted = checkCertificate(panel, answerOf(panel));
    expect([counted.lamps, counted.left]).toEqual([panel.lamps?.length, 0]);
    // Two levers of two positions; twelve of them.
    expect(counted.settings).toBe(name === 'bramble-siding' ? '4' : '4096');
  });

  it.each(COMBINATIONS.map((each) => [nameOf(each), each] as const))('[CE2] of %s is worked out again', (_, asked) => {
    const panel = combine(asked);
    const counted = checkCertificate(panel, answerOf(panel));
    expect(counted.lamps).toBe(asked.lamp === undefined ? 2 * (asked.lamps ?? 1) : 2);
    expect(counted.states).toBeGreaterThan(0);
  });

  it('[CE4] of levers that share a weak supply tells every setting of them, and leaves many of them out', () => {
    const supplies = [{ id: 'S1', volts: 12, amps: 20, ohms: 2 }];
    const few = { ...generatePanel(5, 3), supplies };
    expect(checkCertificate(few, answerOf(few)).left).toBe(0);
    const many = { ...generatePanel(5, 12), supplies };
    expect(checkCertificate(many, answerOf(many))).toMatchObject({ lamps: 0, left: 24, states: 0 });
  });

  it('of a hundred points stays small', () => {
    const panel = generatePanel(5, 100);
    const answer = answerOf(panel);
    expect(checkCertificate(panel, answer)).toMatchObject({ lamps: 200, left: 0 });
    expect(JSON.stringify(answer.certificate).length).toBeLessThan(1_500_000);
  });

  it('[CE1] is worked out by a program of under 300 lines that takes nothing from this one', () => {
    const text = readFileSync('tests/oracle/check-certificate.mjs', 'utf8');
    expect(text.trimEnd().split('\n').length).toBeLessThan(300);
    const imports = [...text.matchAll(/from '(.*)'/g)].map(([, from]) => from);
    expect(imports.every((from) => from?.startsWith('node:'))).toBe(true);
  });

  it('is worked out from two files by the command', () => {
    const folder = mkdtempSync(join(tmpdir(), 'certificate-'));
    try {
      const panel = example('bramble-siding');
      const answer = answerOf(panel);
      const run = (told: TruthAnswer) => {
        const paths = [join(folder, 'panel.json'), join(folder, 'answer.json')];
        [panel, told].forEach((each, i) => writeFileSync(paths[i] ?? '', JSON.stringify(each)));
        return spawnSync('node', ['tests/oracle/check-certificate.mjs', ...paths], { encoding: 'utf8' });
      };
      const good = run(answer);
      expect([good.status, good.stdout]).toEqual([
        0,
        'ok: {"lamps":12,"left":0,"states":4,"cases":24,"settings":"4"}\n',
      ]);
      const bad = run({ ...answer, certificate: { ...answer.certificate, settings: '5' } });
      expect([bad.status, bad.stdout]).toEqual([1, 'there are 4 settings\n']);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

type Certificate = TruthAnswer['certificate'];
type Mutation = (answer: TruthAnswer, random: Random) => void;

function pick<T>(random: Random, list: readonly T[]): T {
  return random.pick(list);
}

/** A circuit that tells states, and one of them. */
function stateOf({ circuits }: Certificate, random: Random) {
  const circuit = pick(
    random,
    circuits.filter(({ states }) => states.length > 0),
  );
  return { circuit, state: pick(random, circuit.states) };
}

const claiming = ({ lamps }: Certificate) => lamps.filter(({ claim }) => claim.length > 0);

function turn(lies: Record<string, 'normal' | 'reverse'>, random: Random): void {
  const point = pick(random, Object.keys(lies));
  lies[point] = lies[point] === 'normal' ? 'reverse' : 'normal';
}

const MUTATIONS: Readonly<Record<string, Mutation>> = {
  'a volt changed': ({ certificate }, random) => {
    const { circuit, state } = stateOf(certificate, random);
    const { volts } = pick(random, state.points);
    // At the end of a resistor some current changes with it; what hangs on dark lamps alone may float.
    const ends = new Set(
      circuit.elements.filter(({ kind }) => kind === 'resistor' || kind === 'source').flatMap(({ a, b }) => [a, b]),
    );
    const told = circuit.nodes.flatMap((node, i) => (volts[i] !== null && ends.has(node) ? [i] : []));
    const place = pick(random, told);
    volts[place] = (volts[place] ?? 0) + (random.chance(50) ? 1 : -1) * (random.whole(1, 300) / 100);
  },
  'a lever or a lie of a state turned over': ({ certificate }, random) => {
    const named = certificate.circuits
      .flatMap(({ states }) => states.flatMap(({ levers, history }): Record<string, string>[] => [levers, history]))
      .filter((each) => Object.keys(each).length > 0);
    const lies = pick(random, named);
    const name = pick(random, Object.keys(lies));
    lies[name] = lies[name] === 'normal' ? 'reverse' : 'normal';
  },
  'a contact that closes the other way': ({ certificate }, random) => {
    // Where drives, blades or relays light the lamps, the lever's poles do not touch them.
    const live = certificate.circuits.filter(({ states }) => states.length > 0);
    const contacts = live.flatMap(({ elements }) => elements.flatMap(({ by }) => by ?? []));
    const lighting = contacts.filter(({ carrier }) => carrier !== undefined);
    const by = pick(random, lighting.length > 0 ? lighting : contacts);
    by.lies = by.lies === 'normal' ? 'reverse' : 'normal';
  },
  "a lamp's amps changed": ({ certificate }, random) => {
    const { state } = stateOf(certificate, random);
    const amps = state.amps[pick(random, Object.keys(state.amps))];
    const which = random.whole(0, 2);
    if (amps !== undefined) amps[which] = (amps[which] ?? 0) * 1.01 + 1e-6;
  },
  'a claim turned': ({ certificate }, random) => {
    turn(pick(random, pick(random, claiming(certificate)).claim), random);
  },
  'a state left out': ({ certificate }, random) => {
    const { circuit, state } = stateOf(certificate, random);
    circuit.states.splice(circuit.states.indexOf(state), 1);
  },
  'an untruth removed, or made up': ({ untruths, certificate }, random) => {
    if (untruths.length > 0) untruths.splice(random.whole(0, untruths.length - 1), 1);
    else {
      const { id, cases } = pick(random, claiming(certificate));
      const { levers, history, should } = pick(random, cases);
      untruths.push({ levers, history, lamp: id, shown: should === 'lit' ? 'unlit' : 'lit', should });
    }
  },
  'a doubt made up': ({ doubtful, certificate }, random) => {
    const { id, cases } = pick(random, claiming(certificate));
    const { levers, history } = pick(random, cases);
    doubtful.push({ levers, history, lamp: id, side: 'right' });
  },
  'the count of settings changed': (answer, random) => {
    const settings = String(BigInt(answer.settings) * 2n ** BigInt(random.whole(1, 3)) + BigInt(random.whole(0, 1)));
    if (random.chance(70)) answer.settings = settings;
    if (answer.settings !== settings || random.chance(50)) answer.certificate.settings = settings;
  },
  'a case that shows or should show otherwise': ({ certificate }, random) => {
    const each = pick(random, pick(random, claiming(certificate)).cases);
    if (random.chance(50)) each.should = each.should === 'lit' ? 'unlit' : 'lit';
    else each.shown = each.shown === 'lit' ? 'dark' : 'lit';
  },
  'a lamp left out': ({ certificate }, random) => {
    certificate.lamps.splice(random.whole(0, certificate.lamps.length - 1), 1);
  },
  'a lamp that speaks when dark, or no more': ({ certificate }, random) => {
    const lamp = pick(random, certificate.lamps);
    lamp.speaksWhenDark = !lamp.speaksWhenDark;
  },
  'a resistor of other ohms': ({ certificate }, random) => {
    const live = certificate.circuits.filter(({ states }) => states.length > 0);
    const element = pick(
      random,
      live.flatMap(({ elements }) => elements.filter(({ edge }) => edge === 'lamps')),
    );
    if (Array.isArray(element.ohms))
      element.ohms = [element.ohms[0] * 1.2, element.ohms[1] * 1.2, element.ohms[2] * 1.2];
  },
};

describe('a certificate that was changed', () => {
  const panels = [
    example('bramble-siding'),
    combine({ drive: 'stall-2-wire', feed: 'reversing', scheme: 'drive-contact', switch: 'toggle-2p-centre-off' }),
    combine({ drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed', lamps: 3, arrange: 'parallel' }),
    // Nothing is left on a pulse feed for lamps across it: untruths.
    combine({ drive: 'twin-coil-end-off', feed: 'pulse', scheme: 'drive-contact' }),
    example('quillhaven-harbour'),
    { ...generatePanel(3, 3), supplies: [{ id: 'S1', volts: 12, amps: 20, ohms: 2 }] },
  ];
  const answers = panels.map((panel) => [panel, JSON.stringify(answerOf(panel))] as const);

  it.each(Object.entries(MUTATIONS))('[CE3] is found out: %s (seeds 1 to 24)', (what, mutate) => {
    let tried = 0;
    for (let seed = 1; seed <= 24; seed++) {
      const [panel, text] = answers[seed % answers.length] ?? [];
      if (panel === undefined || text === undefined) throw new RangeError(`no panel for seed ${seed}`);
      const answer: TruthAnswer = JSON.parse(text);
      mutate(answer, randomOf(seed * 7919 + what.length));
      if (JSON.stringify(answer) === text) continue;
      tried += 1;
      expect(() => checkCertificate(panel, answer), `seed ${seed}`).toThrow();
    }
    expect(tried).toBeGreaterThan(12);
  });

  it('[CE3] is found out: an untruth removed where lamps cannot be lit', () => {
    const panel = { ...generatePanel(5, 4), lighting: { scheme: 'spare-pole' as const, supply: 'S7' } };
    const answer = answerOf(panel);
    expect(answer.untruths.length).toBeGreaterThan(0);
    checkCertificate(panel, answer);
    for (const removed of answer.untruths) {
      const untruths = answer.untruths.filter((each) => each !== removed);
      expect(() => checkCertificate(panel, { ...answer, untruths })).toThrow();
    }
  });
});
