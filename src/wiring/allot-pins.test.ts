import { describe, expect, it } from 'vitest';
import { checkPanel, type PanelFile } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { allotPins, type Bundle } from './allot-pins.ts';
import type { WiringProblem } from './types.ts';

function panel(more: object): PanelFile {
  const read = checkPanel({ format: 'mimic-panel', version: 1, strips: [], ...more });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.panel;
}

/** Drives D1, D2... on a lever each, of so many wires; told as "A.1 A.2" in the order of the drives, "-" where there is no pin. */
function allot(count: number, more: object = {}, wires = 2) {
  const bundles = Array.from(
    { length: count },
    (_, i): Bundle => ({
      circuit: `L${i + 1}`,
      names: `D${i + 1}`,
      to: ['a', 'b', 'c', 'd'].slice(0, wires).map((tag) => `D${i + 1}.${tag}`),
      net: [2, 5, 8, 11].slice(0, wires).map((tag) => `L${i + 1}.t${tag}`),
    }),
  );
  const problems: WiringProblem[] = [];
  const file = panel(more);
  const { connectors, pinsOf } = allotPins(file, resolveCatalogue(file.parts), bundles, problems);
  const told = bundles.map(
    ({ names }) =>
      pinsOf
        .get(names)
        ?.map(({ id }) => id)
        .join(' ') ?? '-',
  );
  return { told, connectors, problems, codes: problems.map(({ code }) => code) };
}

const one = (part: string, more: object = {}) => ({ connectors: [{ id: 'A', part, spare: 0, ...more }] });

describe('allotPins', () => {
  it('[WI3] pairs ways that follow one another in number and stand side by side, whatever the family', () => {
    // D shell of 9: 1 to 5 above, 6 to 9 below: 5 and 6 stand at its two ends.
    expect(allot(4, one('dsub-9')).told).toEqual(['A.1 A.2', 'A.3 A.4', 'A.6 A.7', 'A.8 A.9']);
    // Ribbon header: odd below, even above, so 2 and 3 lie across.
    expect(allot(3, one('header-10')).told).toEqual(['A.1 A.2', 'A.3 A.4', 'A.5 A.6']);
    expect(allot(2, one('screw-4')).told).toEqual(['A.1 A.2', 'A.3 A.4']);
  });

  it('[WI3] takes other neighbours where no two numbers follow each other: round a DIN plug 1 4 2 5 3', () => {
    // File format: neighbours in the order 1 4 2 5 3, so 1 with 4 and 2 with 5; 3 is left.
    expect(allot(2, one('din-5')).told).toEqual(['A.1 A.4', 'A.2 A.5']);
  });

  it('[WI7] leaves one way in eight spare, rounded up, and fills shells in order', () => {
    // 25 ways: 4 spare, 21 to use, 10 pairs; 9 ways: 2 spare, 7 to use, 3 pairs.
    const grown = allot(11);
    expect(grown.connectors.map(({ id, pins }) => [id, pins.length])).toEqual([
      ['A', 20],
      ['B', 2],
    ]);
    expect(grown.codes).toEqual(['connectors-alike']);
    const given = allot(4, {
      connectors: [
        { id: 'X', part: 'dsub-9' },
        { id: 'B', part: 'dsub-15' },
      ],
    });
    expect(given.told).toEqual(['X.1 X.2', 'X.3 X.4', 'X.6 X.7', 'B.1 B.2']);
  });

  it('[WI7] breaks into the spare ways of the given shells before it gives up, and says both', () => {
    const { told, problems } = allot(5, { connectors: [{ id: 'A', part: 'dsub-9' }] });
    expect(told).toEqual(['A.1 A.2', 'A.3 A.4', 'A.6 A.7', 'A.8 A.9', '-']);
    expect(problems).toEqual([
      { code: 'connector-full', needs: 10, has: 9, lacking: ['D5'] },
      { code: 'connector-spare-used', connector: 'A', free: 1, wanted: 2 },
    ]);
  });

  it('[WI8] keeps the ways that the file fixes, and puts the other wire of a pair beside', () => {
    expect(allot(3, one('dsub-9', { pins: { 2: 'D3.a', 7: 'D1.b' } })).told).toEqual(['A.8 A.7', 'A.3 A.4', 'A.2 A.1']);
    // Both fixed, far apart: as the user says.
    expect(allot(1, one('dsub-9', { pins: { 1: 'D1.b', 9: 'D1.a' } })).told).toEqual(['A.9 A.1']);
  });

  it('[WI8] never gives away a way that leads to something else, and reports what cannot be', () => {
    const { told, problems } = allot(
      2,
      one('dsub-9', { pins: { 1: 'frog:F1', 10: 'D1.a', x: 'D1.a', 2: 'D1.a', 3: 'D1.a' } }),
    );
    // 1 and 3 are kept free; 2 is D1's, whose other wire goes to the neighbour that is free: 6, below and between 1 and 2.
    expect(told).toEqual(['A.2 A.6', 'A.4 A.5']);
    expect(problems).toEqual([
      { code: 'pin-leads-nowhere', connector: 'A', pin: '1', to: 'frog:F1' },
      { code: 'pin-leads-nowhere', connector: 'A', pin: '3', to: 'D1.a' },
      { code: 'pin-unknown', connector: 'A', pin: '10' },
      { code: 'pin-unknown', connector: 'A', pin: 'x' },
    ]);
  });

  it('[WI8] what is built stays, in a shell that the tool made as well, when another lever comes before', () => {
    const built = { pins: { 'A.1': 'D2.a', 'A.2': 'D2.b', 'B.4': 'D3.a' } };
    const { told, connectors } = allot(4, { built });
    expect(told).toEqual(['A.3 A.4', 'A.1 A.2', 'B.4 B.5', 'A.5 A.6']);
    expect(connectors.map(({ id, recorded }) => [id, recorded])).toEqual([
      ['A', false],
      ['B', false],
    ]);
  });

  it('[WI8] what is built goes before what the file says of the same way or the same tag', () => {
    const built = { pins: { 'A.7': 'D1.a' } };
    const { told, problems } = allot(2, { ...one('dsub-9', { pins: { 7: 'D2.a', 1: 'D1.a' } }), built });
    expect(told[0]?.split(' ')[0]).toBe('A.7');
    expect(new Set(told.flatMap((pins) => pins.split(' '))).size).toBe(4);
    expect(problems.filter(({ code }) => code === 'pin-leads-nowhere')).toHaveLength(2);
  });

  it('[WI8] a wire of the file that leads from a way to a tag fixes that way', () => {
    const { told } = allot(2, { ...one('dsub-9'), wires: [{ id: 'W12', from: 'D1.b', to: 'A.8' }] });
    expect(told).toEqual(['A.9 A.8', 'A.1 A.2']);
  });

  it('[WI9] takes the usual connector where its part is not there, and reports that; none at all where nothing leaves', () => {
    const { connectors, codes } = allot(1, { connectors: [{ id: 'A', part: 'dsub-24' }] });
    expect([connectors[0]?.part.id, ...codes]).toEqual(['dsub-25', 'connector-part-unknown']);
    expect(allot(0).connectors).toEqual([]);
  });

  it('[WI9] passes over letters that the file uses or has retired', () => {
    const { connectors } = allot(11, { places: [{ id: 'A', at: [0, 0] }], retired: ['b'] });
    expect(connectors.map(({ id }) => id)).toEqual(['C', 'D']);
  });

  it('[WI3] keeps bundles of one and of three wires together, and takes any ways of a shell where no run is left', () => {
    expect(allot(3, one('screw-4'), 1).told).toEqual(['A.1', 'A.2', 'A.3']);
    expect(allot(2, one('dsub-9'), 3).told).toEqual(['A.1 A.2 A.3', 'A.6 A.7 A.8']);
    // 1 2 3 and 4 5 of a row of five: the second bundle finds its run below, the third only what is left.
    expect(allot(3, one('dsub-9'), 3).told).toEqual(['A.1 A.2 A.3', 'A.6 A.7 A.8', 'A.4 A.5 A.9']);
    expect(allot(2, one('screw-6', { pins: { 2: 'D2.b' } }), 3).told).toEqual(['A.3 A.4 A.5', 'A.1 A.2 A.6']);
  });
});
