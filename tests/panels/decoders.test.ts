/** Decoders in whole panels: what mends write where the file says little, and what other subjects say of them. */
import { describe, expect, it } from 'vitest';
import { type Derived, derive } from '../../src/derive.ts';
import { applyTransaction, checkPanel, type PanelFile, readPanel, writePanel } from '../../src/panel/index.ts';

function panelOf(value: object): PanelFile {
  const read = checkPanel({ format: 'mimic-panel', version: 1, ...value });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.panel;
}

const codesOf = (derived: Derived) => derived.findings().map(({ code }) => code);

/** The panel after a mend, written and read again. */
function mended(derived: Derived, code: string, id: string): Derived {
  const edit = derived
    .findings()
    .find((each) => each.code === code)
    ?.mends.find((each) => each.id === id)?.edit;
  if (edit === undefined || edit === null) throw new Error(`no ${id} of ${code} among ${codesOf(derived).join(' ')}`);
  const read = readPanel(writePanel(applyTransaction(derived.panel, edit, { freeze: true })));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return derive(read.panel);
}

const addresses = (derived: Derived) =>
  derived.decoders.decoders.map(({ address, points }) => [address, ...points.map(({ point }) => point)]);

const MAIN = {
  id: 'main',
  path: [
    [0, 60],
    [300, 60],
  ],
};
const SIDING = {
  id: 'siding',
  path: [
    [100, 60],
    [140, 35],
    [220, 35],
  ],
};
const OWN = { system: 'digital', numbering: 'board-1', accessoryBus: {} };

describe('addresses that a mend gives', () => {
  it('go to new records where points name a part, in a slip too', () => {
    const slip = derive(
      panelOf({
        strips: [
          MAIN,
          {
            id: 'cross',
            path: [
              [90, 100],
              [210, 20],
            ],
          },
        ],
        crossings: [
          {
            id: 'X1',
            at: [150, 60],
            kind: 'double-slip',
            ends: [
              { id: 'P1', drive: 'decoder' },
              { id: 'P2', drive: 'decoder' },
            ],
          },
        ],
        track: OWN,
      }),
    );
    expect(addresses(slip)).toEqual([
      [null, 'P1'],
      [null, 'P2'],
    ]);
    const after = mended(slip, 'decoder-no-address', 'free-address');
    expect(addresses(after)).toEqual([
      [1, 'P1'],
      [2, 'P2'],
    ]);
    expect(after.panel.drives?.map(({ id, part, address }) => [id, part, address])).toEqual([
      ['D1', 'decoder', 1],
      ['D2', 'decoder', 2],
    ]);
    expect(codesOf(after).filter((code) => code.startsWith('decoder'))).toEqual([]);
  });

  it('keep the user’s own part, and pass over addresses that are taken', () => {
    const own = derive(
      panelOf({
        strips: [MAIN, SIDING],
        parts: [{ id: 'mine', like: 'decoder', runAmps: 0.3 }],
        points: [{ id: 'P1', at: [100, 60], drive: 'mine' }],
        drives: [
          { id: 'D1', part: 'decoder', address: 1 },
          { id: 'D3', part: 'decoder', address: 3 },
        ],
        track: OWN,
      }),
    );
    const after = mended(own, 'decoder-no-address', 'free-address');
    expect(addresses(after)).toEqual([[1], [2, 'P1'], [3]]);
    expect(after.panel.drives?.find(({ address }) => address === 2)?.part).toBe('mine');
    expect(after.decoders.draw.one).toBeCloseTo(0.3, 9);
  });

  it('are not given where all are taken: 510 boards of 4 pairs (NMRA S-9.2.1)', () => {
    const drives = Array.from({ length: 2041 }, (_, i) => ({
      id: `D${i + 1}`,
      part: 'decoder',
      ...(i < 2040 ? { address: i + 1 } : {}),
    }));
    const full = derive(panelOf({ strips: [MAIN], drives, track: OWN }));
    const found = full.findings().find(({ code }) => code === 'decoder-no-address');
    expect(found?.where.ids).toEqual(['D2041']);
    expect(found?.mends).toEqual([]);
    // Where address 1 is on board 0 there are four more.
    const more = derive(panelOf({ strips: [MAIN], drives, track: { ...OWN, numbering: 'board-0' } }));
    expect(
      more
        .findings()
        .find(({ code }) => code === 'decoder-no-address')
        ?.mends.map(({ text }) => text),
    ).toEqual(['Give D2041 address 2041']);
  });
});

describe('a decoder and a lever', () => {
  it('are told once to be no pair, by what the drive is', () => {
    const worked = derive(
      panelOf({
        strips: [MAIN, SIDING],
        points: [{ id: 'P1', at: [100, 60], drive: 'D1' }],
        drives: [{ id: 'D1', part: 'decoder', address: 1 }],
        levers: [{ id: 'L1', works: [{ point: 'P1' }] }],
        track: OWN,
      }),
    );
    expect(codesOf(worked).filter((code) => /^(drive-kind|decoder|address)/.test(code))).toEqual(['drive-kind-unfit']);
  });

  it('an address on a drive that a lever works is taken away, not the lever’s drive made a decoder', () => {
    const stall = panelOf({
      strips: [MAIN, SIDING],
      points: [{ id: 'P1', at: [100, 60], drive: 'D1' }],
      drives: [{ id: 'D1', address: 1 }],
      levers: [{ id: 'L1', works: [{ point: 'P1' }] }],
      track: OWN,
    });
    const found = derive(stall)
      .findings()
      .find(({ code }) => code === 'address-without-decoder');
    expect(found?.mends.map(({ id }) => id)).toEqual(['lift-address']);
  });

  it('a panel without decoders is told nothing of them', () => {
    const plain = derive(panelOf({ strips: [MAIN, SIDING], track: { system: 'analogue' } }));
    expect(codesOf(plain).filter((code) => code.includes('decoder'))).toEqual([]);
    expect(plain.decoders.decoders).toEqual([]);
  });
});

describe('what the bus gives', () => {
  const draw = (track: object) =>
    codesOf(
      derive(
        panelOf({
          strips: [MAIN],
          drives: Array.from({ length: 20 }, (_, i) => ({ id: `D${i + 1}`, part: 'decoder', address: i + 1 })),
          track: { numbering: 'board-1', ...track },
        }),
      ),
    ).filter((code) => code.includes('trip'));

  // 20 x 0.2 A, typical of the kind (from memory), are 4 A.
  it('boosters of one track are counted together, since the file cannot say which decoder hangs on which', () => {
    expect(draw({ boosters: [{ id: 'Z1', tripAmps: 3 }] })).toEqual(['decoders-trip-at-power-up']);
    expect(
      draw({
        boosters: [
          { id: 'Z1', tripAmps: 3 },
          { id: 'Z2', tripAmps: 3 },
        ],
      }),
    ).toEqual([]);
  });

  it('is that of the accessories’ own bus where there is one', () => {
    expect(draw({ boosters: [{ id: 'Z1', tripAmps: 3 }], accessoryBus: { tripAmps: 5 } })).toEqual([]);
    expect(draw({ boosters: [{ id: 'Z1', tripAmps: 8 }], accessoryBus: { tripAmps: 1 } })).toEqual([
      'decoders-trip-at-power-up',
    ]);
  });

  it('that is too little for one throw is told as that alone', () => {
    expect(draw({ accessoryBus: { tripAmps: 0.1 } })).toEqual(['decoder-trips-bus']);
  });
});
