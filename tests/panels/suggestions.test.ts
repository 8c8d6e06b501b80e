/**
 * What is suggested against faults that lie, held against the same panel made that way. What each kind of evidence can know is common
 * practice, no source: a lever knows what was asked, a drive's contact where the drive is, a contact on the blades how they lie.
 */
import { describe, expect, it } from 'vitest';
import { combine } from '../../src/cli/combine.ts';
import { type Derived, derive } from '../../src/derive.ts';
import { resolveCatalogue } from '../../src/parts/index.ts';

type Scheme = Parameters<typeof combine>[0]['scheme'];

const panelOf = (scheme: Scheme) => combine({ drive: 'stall-2-wire', feed: 'reversing', scheme });
const made = (scheme: Scheme): Derived => derive(panelOf(scheme));

const typical = resolveCatalogue([]);

function lying(derived: Derived): ReadonlySet<string> {
  return new Set(derived.faultTruth().wrongSide.map(({ fault }) => fault));
}

const find = (derived: Derived, id: string) => derived.suggestions().find((each) => each.id === id);

/** Faults of the drive itself: their codes are the same whatever lights the lamps. */
const OF_DRIVE = ['open:P1', 'crossed:P1', 'stuck:P1=normal', 'stuck:P1=reverse'];

describe('suggestions', () => {
  const asked = made('across-feed');

  it('[SG1] a contact of the drive tells of all but a link that is off, one on the blades of that too', () => {
    const [drive, blades] = [find(asked, 'drive-contact'), find(asked, 'blade-contact')];
    expect(drive?.lamps).toEqual(['N1', 'R1']);
    // Of those that make a lamp show what was asked while the blades lie otherwise, the link is the one left.
    expect((blades?.cures ?? 0) - (drive?.cures ?? 0)).toBe(1);
    for (const fault of [...OF_DRIVE, 'linkage:P1']) expect(lying(asked), fault).toContain(fault);
    const onDrive = lying(made('drive-contact'));
    for (const fault of OF_DRIVE) expect(onDrive, fault).not.toContain(fault);
    expect(onDrive).toContain('linkage:P1');
    const onBlades = lying(made('blade-contact'));
    for (const fault of [...OF_DRIVE, 'linkage:P1']) expect(onBlades, fault).not.toContain(fault);
  });

  it('[SG1] no more is promised than the panel made that way keeps, but for faults of what is added', () => {
    for (const [id, scheme] of [
      ['drive-contact', 'drive-contact'],
      ['blade-contact', 'blade-contact'],
      ['in-series', 'in-series'],
    ] as const) {
      const then = made(scheme);
      const known = new Set(asked.faultTruth().outcomes.map(({ fault }) => fault));
      const added = [...lying(then)].filter((fault) => !known.has(fault) || !lying(asked).has(fault)).length;
      const left = lying(asked).size - (find(asked, id)?.cures ?? 0);
      expect(lying(then).size - added, id).toBeLessThanOrEqual(left);
    }
  });

  it('[SG2] a contact that is free costs wires and pins, one on the blades a part besides', () => {
    expect(find(asked, 'drive-contact')?.price).toEqual({ money: 0, parts: [], wires: 3, pins: 3 });
    expect(find(asked, 'blade-contact')?.price).toEqual({
      money: typical.find('contact', 'blade-contact')?.price,
      parts: [{ part: 'blade-contact', count: 1 }],
      wires: 3,
      pins: 3,
    });
    const dear = derive({ ...panelOf('across-feed'), parts: [{ id: 'blade-contact', price: 4.25 }] });
    expect(find(dear, 'blade-contact')?.price.money).toBe(4.25);
    expect(find(asked, 'in-series')?.price).toEqual({ money: 0, parts: [], wires: 0, pins: 0 });
  });

  it('[SG2] a drive without a contact is offered none', () => {
    const derived = derive(combine({ drive: 'servo-board', feed: 'contact', scheme: 'spare-pole' }));
    expect(find(derived, 'drive-contact')).toBeUndefined();
    expect(find(derived, 'blade-contact')?.cures).toBeGreaterThan(0);
  });

  describe('a drive whose contacts all do something else', () => {
    const busy = { drives: [{ id: 'D1', part: 'stall-2-wire', contacts: { c1: 'bell', c2: 'buzzer' } }] };
    const points = [{ id: 'P1', at: [60, 60] as [number, number], drive: 'D1' }];
    const full = derive({ ...panelOf('across-feed'), points, ...busy });

    it('[SG1] is offered a relay on one of them, which knows what a contact of the drive knows', () => {
      expect(find(full, 'drive-contact')).toBeUndefined();
      expect(find(asked, 'relay')).toBeUndefined();
      // The lamps hang on a changeover that goes where the drive goes: as behind a third contact.
      const third = derive({
        ...panelOf('drive-contact'),
        points,
        ...busy,
        parts: [{ id: 'stall-2-wire', contacts: 3 }],
      });
      const still = OF_DRIVE.filter((fault) => lying(third).has(fault));
      expect(still).toEqual([]);
      expect(lying(third)).toContain('linkage:P1');
      for (const fault of OF_DRIVE) expect(lying(full), fault).toContain(fault);
      const known = new Set(full.faultTruth().outcomes.map(({ fault }) => fault));
      const added = [...lying(third)].filter((fault) => !known.has(fault) || !lying(full).has(fault)).length;
      expect(lying(third).size - added).toBeLessThanOrEqual(lying(full).size - (find(full, 'relay')?.cures ?? 0));
    });

    it('[SG2] costs the relay, its feed and its wires', () => {
      // A common, two throws; plus, minus, and from the contact to the coil: that one stays under the layout.
      expect(find(full, 'relay')?.price).toEqual({
        money: typical.find('relay', 'relay-2p')?.price,
        parts: [{ part: 'relay-2p', count: 1 }],
        wires: 6,
        pins: 5,
      });
      // 12 V across 400 ohm, by the description of the file: 30 mA.
      expect(find(full, 'relay')?.text).toMatch(/30.0 mA at 12.00 V/);
    });

    it('[SG3] one without any contact is offered none', () => {
      expect(
        find(derive(combine({ drive: 'twin-coil', feed: 'unit', scheme: 'spare-pole' })), 'relay'),
      ).toBeUndefined();
    });
  });

  it('[SG3] nothing is suggested that would cure nothing, and the most cured stands first', () => {
    expect(find(made('blade-contact'), 'drive-contact')).toBeUndefined();
    expect(find(made('blade-contact'), 'blade-contact')).toBeUndefined();
    const cures = asked.suggestions().map((each) => each.cures);
    expect(cures).toEqual([...cures].sort((a, b) => b - a));
    expect(Math.min(...cures)).toBeGreaterThan(0);
  });

  it('[SG3] more current lights a lamp through a resistor of ten times the ohms', () => {
    const more = find(asked, 'more-current');
    // Seen from 0.2 mA, by the description of the file: ten times that and a quarter.
    expect(more?.text).toContain('2.5 mA');
    expect(more?.cures).toBe(1);
    const panel = combine({ drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed' });
    const brighter = derive({ ...panel, lighting: { ...panel.lighting, current: 0.0025 } });
    const values = (derived: Derived) => [...lying(derived)].filter((fault) => fault.startsWith('value:'));
    expect(values(asked)).toHaveLength(1);
    expect(values(brighter)).toHaveLength(0);
  });
});
