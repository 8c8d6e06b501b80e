import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { derivePanel, rederive } from '../../derive.ts';
import { joinUnder, partLever } from '../../laying/index.ts';
import { applyTransaction, type PanelFile, readPanel } from '../../panel/index.ts';
import { makeRouteView, makeWorkPiece, makeWorkView, type WorkPart, type WorkPieces } from './work-view.ts';

function open(name: string): PanelFile {
  const read = readPanel(readFileSync(new URL(`../../../examples/${name}.mimic.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error('the example does not open');
  return read.panel;
}

const harbour = open('quillhaven-harbour');
const judged = derivePanel(null, harbour);
const view = makeWorkView(judged);

function piece<P extends WorkPart>(part: P, of = judged): WorkPieces[P] {
  const made = makeWorkPiece(of, part);
  return made as unknown as WorkPieces[P];
}

describe('who works what', () => {
  it('tells each lever with its points, its switch and the poles that it uses', () => {
    expect(view.levers).toHaveLength(12);
    expect(view.levers.find(({ id }) => id === 'L12')).toMatchObject({
      name: 'Run-round',
      works: ['P14', 'P15', 'P16', 'P17'].map((point) => ({ point, opposite: false })),
      switch: { part: 'toggle-3p', action: 'held', size: 'toggle', poles: 3, feed: 2, given: true },
    });
    // A reversing feed takes two poles of each of the twelve: common practice, no source.
    expect(view.levers.every((lever) => lever.switch.feed === 2)).toBe(true);
    expect(view.poles.of).toBe(11 * 3 + 4);
    expect(view.poles.used).toBeLessThanOrEqual(view.poles.of);
  });

  it('offers the switch that differs in kind or size alone', () => {
    expect(view.levers[0]?.switch.actions).toEqual({
      held: 'toggle-3p',
      'centre-off': 'toggle-3p-centre-off',
      sprung: 'toggle-3p-sprung',
    });
    expect(view.levers[0]?.switch.sizes).toEqual({
      toggle: 'toggle-3p',
      'mini-toggle': 'mini-toggle-3p',
      'sub-mini-toggle': null,
    });
  });

  it('counts the points of each kind of drive, and says which the feed cannot work', () => {
    expect(view.drives.map(({ what, points, suits, trap }) => [what, points, suits, trap])).toEqual([
      ['stall', 17, true, 'lets-go'],
      ['limit', 0, true, 'goes-dark'],
      ['twin-coil', 0, false, 'burns'],
      ['twin-coil-end-off', 0, false, 'end-contact'],
      ['servo', 0, false, 'twitches'],
      ['decoder', 0, true, 'bus-short'],
      ['hand', 0, true, 'shown-only'],
    ]);
  });
});

describe('the pieces', () => {
  it('has a sign for every lever of every route', () => {
    const { routes, cut } = piece('routes');
    const list = judged.routes().routes;
    expect(cut).toBe(false);
    expect(routes).toHaveLength(list.length);
    routes.forEach((route, i) => {
      const told = Object.fromEntries(
        view.levers.flatMap(({ id }, k) => {
          const sign = route.cells[k];
          return sign === ' ' ? [] : [[id, sign === 'N' ? 'normal' : 'reverse']];
        }),
      );
      expect(told).toEqual(list[i]?.levers);
    });
  });

  it('counts the pairs that can stand together as the conflicts leave them', () => {
    const n = judged.routes().routes.length;
    expect(piece('routes').pairs).toBe((n * (n - 1)) / 2 - judged.conflicts().length);
  });

  it('tells what stands beside a route, and why not', () => {
    const beside = makeRouteView(judged, 0)?.beside ?? [];
    expect(beside).toHaveLength(judged.routes().routes.length - 1);
    const against = judged.conflicts().filter(([i]) => i === 0);
    expect(beside.filter(({ reason }) => reason !== null && !reason.startsWith('lever:'))).toHaveLength(against.length);
    expect(makeRouteView(judged, 9999)).toBe(null);
  });

  it('tells the fewest levers, and what the present ones lose', () => {
    const { least, leastForRoutes, lost, proved } = piece('grouping');
    expect({ least, proved, lost: [lost.routes, lost.pairs] }).toEqual({ least: 12, proved: true, lost: [0, 0] });
    expect(leastForRoutes).toBeLessThan(12);
  });

  it('names what a join that was made loses, and nothing where it was free', () => {
    expect(piece('joins').now.map(({ lever, as, loses }) => [lever, as, loses.routes + loses.pairs])).toEqual([
      ['L4', 'crossover', 0],
      ['L10', 'never', 0],
      ['L12', 'crossovers', 0],
    ]);
    const [worst] = [...piece('joins').could].reverse();
    if (worst === undefined) throw new Error('no join is offered');
    const tx = joinUnder(harbour, worst);
    if (tx === null) throw new Error('it cannot be joined');
    const after = derivePanel(null, applyTransaction(harbour, tx));
    const now = piece('joins', after).now.find(({ lever }) => lever === worst.levers[0]);
    expect([now?.loses.routes, now?.loses.pairs]).toEqual([worst.loses.routes, worst.loses.pairs]);
    expect(piece('grouping', after).lost).toMatchObject({ routes: worst.loses.routes, pairs: worst.loses.pairs });
  });

  it('finds the same number again after levers changed, without looking at the track anew', () => {
    const tx = partLever(harbour, 'L12');
    if (tx === null) throw new Error('L12 has four points');
    const after = derivePanel(judged, applyTransaction(harbour, tx));
    expect(piece('grouping', after).groups).toBe(piece('grouping').groups);
  });

  it('says what switching on draws, as the core has it', () => {
    const { supplies, moves, contacts } = piece('current');
    const up = rederive(null, harbour).powerUp();
    expect(supplies.map(({ id, amps, steady }) => ({ id, amps, steady }))).toEqual(up.supplies);
    expect(moves).toBe(17);
    expect(contacts).toHaveLength(17);
  });
});
