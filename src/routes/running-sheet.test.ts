import { describe, expect, it } from 'vitest';
import { tracks } from '../../tests/generate/tracks.ts';
import type { PanelFile } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import { legalMoves } from './legal-moves.ts';
import { runSheet, type SheetMove } from './running-sheet.ts';
import { findStandings } from './standings.ts';
import type { Standing } from './train-types.ts';

/** A loop, a spur off the main between, and a road in the loop. P1 the loop's west end, P2 the spur's, P3 the loop's east end. */
const LOOP = `main 0,60 400,60
  loop 60,60 100,85 300,85 340,60
  spur 160,60 200,35 300,35
  @west West 0,60 length=1000
  @east East 400,60 length=1000
  @spur Spur 300,35 length=500
  @loop Loop 200,85 length=700`;

const train = (id: string, length: number | null, stands: string, heads: string | null = null) => ({
  id,
  name: id === 'T1' ? 'Goods' : null,
  length,
  stands,
  heads,
});

const planOf = (more: Partial<PanelFile> = {}) => readPlan(tracks(LOOP, more));
const plan = planOf();

/** A line by the way that needs these lies: "T1>loop P1r". */
function line(text: string): SheetMove {
  const [run = '', ...lies] = text.split(' ');
  const [id = '', to = ''] = run.split('>');
  return {
    train: id,
    to,
    points: Object.fromEntries(lies.map((lie) => [lie.slice(0, 2), lie.endsWith('r') ? 'reverse' : 'normal'])),
  };
}

describe('a running sheet', () => {
  it('[RS1] tells what is thrown before each move, and where all stand after it', () => {
    const begin = { standing: [train('T1', 400, 'west', 'east'), train('T2', 300, 'east', 'west')] };
    // The goods waits in the loop; the other goes by on the main, and the goods goes on.
    const sheet = runSheet(plan, begin, [line('T1>loop P1r'), line('T2>west P1n P2n P3n'), line('T1>east P3r')]);
    expect(sheet.why).toEqual([]);
    expect(sheet.runs).toBe(3);
    expect(sheet.steps.map(({ move }) => move?.throws)).toEqual([
      { L1: 'reverse' },
      { L1: 'normal' },
      { L3: 'reverse' },
    ]);
    expect(sheet.throws).toBe(3);
    expect(sheet.steps.map(({ standing }) => standing.map(({ stands }) => stands).join(' '))).toEqual([
      'loop east',
      'loop west',
      'east west',
    ]);
    // Both went on as they headed.
    expect(sheet.steps.map(({ move }) => move?.head)).toEqual(['first', 'first', 'first']);
    expect(sheet.steps[2]?.thrown).toMatchObject({ L1: 'normal', L2: 'normal', L3: 'reverse' });
  });

  it('[RS2] stops at the first move that cannot be run, and says why', () => {
    const begin = { standing: [train('T1', 400, 'west'), train('T2', 300, 'loop')] };
    const fouled = runSheet(plan, begin, [line('T1>east P1r P3r'), line('T2>east P3r')]);
    expect([fouled.runs, fouled.steps.length]).toEqual([0, 1]);
    expect(fouled.steps[0]?.why).toEqual(['T2 stands at Loop']);
    expect(fouled.steps[0]?.standing).toEqual(begin.standing);
    const long = runSheet(plan, { standing: [train('T1', 600, 'west')] }, [line('T1>spur P1n P2r')]);
    expect(long.steps[0]?.why).toEqual(['Spur holds 500 mm, the train Goods is 600 mm']);
    // The second move asks for a way that is not there from where the first left it.
    const lost = runSheet(plan, { standing: [train('T1', 400, 'west')] }, [
      line('T1>loop P1r'),
      line('T1>spur P1n P2r'),
    ]);
    expect(lost.runs).toBe(1);
    expect(lost.steps[1]).toMatchObject({ move: null, why: ['no such way leads from Loop to Spur'] });
    expect(runSheet(plan, begin, [line('T9>east P1n')]).steps[0]?.why).toEqual(['there is no train T9']);
    expect(runSheet(plan, begin, [line('T1>moon P1n')]).steps[0]?.why).toEqual(['there is no place moon']);
    expect(runSheet(plan, { standing: [train('T1', 400, 'moon')] }, []).why).toEqual([
      'Goods stands at moon: there is no such place',
    ]);
  });

  it('[RS2] a way that no lever can set, though the track has it', () => {
    const crossed = planOf({
      levers: [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P3', opposite: true }, { point: 'P2' }] }],
    });
    const sheet = runSheet(crossed, { standing: [train('T1', 400, 'west')] }, [line('T1>east P1r P3r')]);
    expect(sheet.runs).toBe(0);
    expect(sheet.steps[0]?.move?.throws).toBeNull();
    expect(sheet.steps[0]?.why).toHaveLength(1);
  });

  it('[RS3] begins with levers as they lie: a centre gives way, and what lies right is not thrown', () => {
    const standing = [train('T1', 400, 'west')];
    const throwsAt = (thrown: Parameters<typeof runSheet>[1]['thrown']) =>
      runSheet(plan, { standing, ...(thrown === undefined ? {} : { thrown }) }, [line('T1>loop P1r')]).steps[0]?.move
        ?.throws;
    expect(throwsAt({ L1: 'reverse' })).toEqual({});
    expect(throwsAt({ L1: 'centre' })).toEqual({ L1: 'reverse' });
    expect(throwsAt(undefined)).toEqual({ L1: 'reverse' });
  });

  it('[RS3] asks for lengths that are not given, and goes on', () => {
    const unknown = readPlan(tracks(LOOP.replace('Loop 200,85 length=700', 'Loop 200,85')));
    const sheet = runSheet(unknown, { standing: [train('T1', 400, 'west')] }, [
      line('T1>loop P1r'),
      line('T1>east P3r'),
    ]);
    expect(sheet.runs).toBe(2);
    expect(sheet.steps[0]?.move?.asks).toHaveLength(1);
  });

  it('[RS4] runs every plan of fewest moves as it was found, with its throws and its end', () => {
    const standings: readonly Standing[] = [
      [train('T1', 400, 'west', 'east'), train('T2', 300, 'east', 'west')],
      [train('T1', 400, 'loop', 'east'), train('T2', 300, 'spur', 'spur')],
    ];
    for (const standing of standings) {
      const found = findStandings(plan, standing, [
        { train: 'T1', place: 'east' },
        { train: 'T2', place: 'west' },
      ]);
      expect(found.outcome).toBe('found');
      const sheet = runSheet(
        plan,
        { standing },
        found.moves.map(({ train: id, to, points }) => ({ train: id, to, points })),
      );
      expect(sheet.runs).toBe(found.moves.length);
      expect(sheet.throws).toBe(found.throws);
      expect(sheet.steps.map(({ move }) => move?.throws)).toEqual(found.moves.map(({ throws }) => throws));
      expect(sheet.steps.at(-1)?.standing).toEqual(found.ends);
    }
  });

  it('[RS4] offers what trains could do there, each as a line that runs', () => {
    const standing = [train('T1', 400, 'west'), train('T2', 300, 'spur')];
    for (const move of legalMoves(plan, standing).moves) {
      const sheet = runSheet(plan, { standing }, [{ train: move.train, to: move.to, points: move.points }]);
      expect(sheet.steps[0]?.move).toMatchObject({ throws: move.throws, fouledBy: move.fouledBy, full: move.full });
      expect(sheet.runs === 1).toBe(move.throws !== null && move.fouledBy.length === 0 && move.full === null);
    }
  });
});
