/** What is said of levers that make no way, and that it is said once and of the right lever. */
import { describe, expect, it } from 'vitest';
import { derive } from '../../src/derive.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import { tracks } from '../generate/tracks.ts';

const LOOP = `main 0,60 300,60
  loop 60,60 100,85 200,85 240,60
  @west West 0,60
  @east East 300,60`;

const said = (text: string, more: Partial<PanelFile>) =>
  derive(tracks(text, more))
    .findings()
    .filter(({ code }) => code === 'lever-joins-nothing' || code === 'route-not-settable')
    .map(({ code, where, message }) => ({ code, ids: where.ids, message }));

describe('a lever that joins nothing', () => {
  it('is told once: not its routes as well', () => {
    const works = [{ point: 'P1' }, { point: 'P2', opposite: true }];
    expect(said(LOOP, { levers: [{ id: 'L1', works }] })).toEqual([
      {
        code: 'lever-joins-nothing',
        ids: ['L1'],
        message:
          'lever L1 joins no two places in either position: every route over P1 and P2 asks them otherwise than it works them',
      },
    ]);
  });

  it('may lead where nothing has a name', () => {
    // A balloon behind the second point: a train that goes in comes back, and stands nowhere on the way.
    const text = `main 0,60 300,60
      branch 60,60 100,85 140,85 200,60
      spur 100,60 140,35 200,35 260,0 320,35 260,70 180,35`;
    const panel = tracks(text);
    const derived = derive(panel);
    const passed = new Set(derived.routes().routes.flatMap(({ points }) => Object.keys(points)));
    const idle = derived.plan.levers.filter(({ works }) => works.every(({ point }) => !passed.has(point)));
    expect(idle.length).toBeGreaterThan(0);
    const found = derived.findings().filter(({ code }) => code === 'lever-joins-nothing');
    expect(found.map(({ where }) => where.ids)).toEqual(idle.map(({ id }) => [id]));
    for (const { message, mends } of found) {
      expect(message).toContain('no route passes');
      expect(mends).toEqual([]);
    }
  });

  it('is not one beside a point that is worked by hand, though its routes cannot be set by levers alone', () => {
    const found = said(LOOP, {
      points: [{ id: 'P2', at: [240, 60], drive: 'hand' }],
      levers: [{ id: 'L1', works: [{ point: 'P1' }] }],
    });
    expect(found.map(({ code }) => code)).toEqual(['route-not-settable']);
  });

  it('is not the second lever of a point, which goes by the first', () => {
    const works = [{ point: 'P1' }, { point: 'P2' }];
    expect(
      said(LOOP, {
        levers: [
          { id: 'L1', works },
          { id: 'L2', works: [{ point: 'P2' }] },
        ],
      }),
    ).toEqual([]);
  });
});
