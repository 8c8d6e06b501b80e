/** Yards and loops of any size, one behind the other along one line, each branch at 32.0 degrees: routes by the thousand on few points. */
import type { PanelFile } from '../../src/panel/index.ts';

type Spot = [number, number];

/** Across and down for one step of a branch, millimetres. */
const DX = 40;
const DY = 25;

/** Double-ended yards, the main line one of the roads of each; the two ends have names: roads to the power of yards from end to end. */
export function yardsInSeries(yards: number, roads: number): PanelFile {
  const strips: PanelFile['strips'] = [];
  const y = DY * (roads + 1);
  const width = 2 * DX * roads + 5 * DX;
  for (let yard = 0; yard < yards; yard++) {
    // Each road leaves the one below it where that one has run level for a step.
    for (let road = 1; road < roads; road++) {
      const left = DX + yard * width + (road - 1) * DX;
      const right = DX + (yard + 1) * width - 2 * DX - (road - 1) * DX;
      const [low, high] = [y - (road - 1) * DY, y - road * DY];
      const path: Spot[] = [
        [left, low],
        [left + DX, high],
        [right - DX, high],
        [right, low],
      ];
      strips.push({ id: `y${yard + 1}-${road}`, path });
    }
  }
  const end = DX + yards * width;
  return {
    format: 'mimic-panel',
    version: 1,
    strips: [{ id: 'main', path: [[0, y] as Spot, [end, y] as Spot] }, ...strips],
    places: [
      { id: 'west', name: 'West', at: [0, y] },
      { id: 'east', name: 'East', at: [end, y] },
    ],
  };
}

/** Passing loops one behind the other: two to the power of their number from end to end. */
export function loopsInARow(loops: number): PanelFile {
  return yardsInSeries(loops, 2);
}
