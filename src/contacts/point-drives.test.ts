import { describe, expect, it } from 'vitest';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { poleBudgets } from './choose-switches.ts';
import { contactsForLamps, drivesOfPoints } from './point-drives.ts';
import { polesForFeed } from './twins.ts';

/** A passing loop: P1 at its left end, P2 at its right. */
function read(more: object) {
  const panel = checkPanel({
    format: 'mimic-panel',
    version: 1,
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'loop',
        path: [
          [60, 60],
          [100, 85],
          [200, 85],
          [240, 60],
        ],
      },
    ],
    ...more,
  });
  if (!panel.ok) throw new Error(JSON.stringify(panel.problems));
  const catalogue = resolveCatalogue(panel.panel.parts);
  return { panel: panel.panel, catalogue, plan: readPlan(panel.panel) };
}

function drives(more: object) {
  const { panel, catalogue, plan } = read(more);
  const found = drivesOfPoints(panel, catalogue, plan);
  return { found, contacts: [...found.values()].map((drive) => contactsForLamps(panel, drive)) };
}

const P1 = { id: 'P1', at: [60, 60] };
const P2 = { id: 'P2', at: [240, 60] };

describe('drivesOfPoints', () => {
  it('[CO8] a point without a word has a stall drive by its own name, in the order of the plan', () => {
    const { found } = drives({});
    expect([...found.values()].map(({ point, drive, part, same }) => [point, drive, part?.id, same])).toEqual([
      ['P1', 'P1', 'stall-2-wire', true],
      ['P2', 'P2', 'stall-2-wire', true],
    ]);
  });

  it('[CO8] a record that two points name is one drive; the order is that of the file', () => {
    const { found } = drives({
      points: [
        { ...P2, drive: 'D1', sense: 'opposite' },
        { ...P1, drive: 'D1' },
      ],
      drives: [{ id: 'D1', part: 'limit-2-wire' }],
    });
    expect([...found.values()].map(({ point, drive, part, same }) => [point, drive, part?.id, same])).toEqual([
      ['P2', 'D1', 'limit-2-wire', false],
      ['P1', 'D1', 'limit-2-wire', true],
    ]);
  });

  it('[CO8] a part that is not there is none', () => {
    const { found } = drives({ points: [{ ...P1, drive: 'no-such-drive' }] });
    expect(found.get('P1')?.part).toBeNull();
  });
});

describe('contactsForLamps', () => {
  it('[CO9] frogs take theirs from the first contact, so lamps take from the last', () => {
    // A stall drive has two contacts, one that cuts itself off one, a twin coil none: the catalogue's figures.
    expect(drives({}).contacts).toEqual([
      ['P1.c2', 'P1.c1'],
      ['P2.c2', 'P2.c1'],
    ]);
    expect(
      drives({
        points: [
          { ...P1, drive: 'limit-2-wire' },
          { ...P2, drive: 'twin-coil' },
        ],
      }).contacts,
    ).toEqual([['P1.c1'], []]);
  });

  it('[CO9] a contact that feeds a live frog is not for lamps; one that a module replaces is', () => {
    const frog = (kind: string) => drives({ frogs: [{ id: 'F1', of: 'P1', kind, from: 'P1.c1' }] }).contacts[0];
    expect(frog('live')).toEqual(['P1.c2']);
    expect(frog('module')).toEqual(['P1.c2', 'P1.c1']);
  });

  it('[CO9] what the record gives to lamps comes first; what it gives to a frog is taken', () => {
    const uses = (contacts: object) =>
      drives({
        points: [{ ...P1, drive: 'D1' }],
        drives: [{ id: 'D1', part: 'stall-2-wire', contacts }],
      }).contacts[0];
    expect(uses({ c1: 'lamps' })).toEqual(['D1.c1', 'D1.c2']);
    expect(uses({ c1: 'frog:F1', c2: 'lamps' })).toEqual(['D1.c2']);
    expect(uses({ c2: 'frog:F1' })).toEqual(['D1.c1']);
  });
});

describe('poleBudgets', () => {
  it('[CO10] a reversing feed takes two poles, every other one', () => {
    expect((['reversing', 'split', 'half-wave', 'pulse', 'charge', 'contact'] as const).map(polesForFeed)).toEqual([
      2, 1, 1, 1, 1, 1,
    ]);
  });

  it('[CO10] what is left: of the named part, else of the largest toggle, which has four poles', () => {
    const budget = (more: object) => {
      const { panel, catalogue, plan } = read(more);
      return poleBudgets(panel, catalogue, plan).get('L1');
    };
    const lever = (part: string) => ({ levers: [{ id: 'L1', works: [{ point: 'P1' }], switch: part }] });
    expect(budget({})).toEqual({ feed: 2, left: 2, stays: true });
    expect(budget({ feed: { kind: 'split' } })).toEqual({ feed: 1, left: 3, stays: true });
    expect(budget(lever('toggle-3p'))).toEqual({ feed: 2, left: 1, stays: true });
    expect(budget(lever('toggle-1p'))).toEqual({ feed: 2, left: 0, stays: true });
    expect(budget({ feed: { kind: 'pulse' } })).toEqual({ feed: 1, left: 3, stays: false });
    expect(budget({ ...lever('toggle-2p-sprung'), feed: { kind: 'charge' } })?.stays).toBe(false);
    // Centre-off stays where it is put.
    expect(budget(lever('toggle-3p-centre-off'))?.stays).toBe(true);
  });
});
