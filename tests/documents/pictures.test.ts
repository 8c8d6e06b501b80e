/** SVG and DXF as other programs read them. */
import DxfParser, { type ICircleEntity, type ILwpolylineEntity } from 'dxf-parser';
import { beforeAll, describe, expect, test } from 'vitest';
import { type BuiltFile, buildBook } from '../../src/book/index.ts';
import type { Derived } from '../../src/derive.ts';
import { loadExample, readCsv, readFonts, textOf } from './load.ts';

describe.each(['quillhaven-harbour', 'bramble-siding'])('%s', (name) => {
  let derived: Derived;
  let files: BuiltFile[];
  beforeAll(async () => {
    derived = loadExample(name);
    files = await buildBook(derived, { paper: 'A4', fonts: readFonts(), only: ['face', 'back', 'holes'] });
  });

  test.each(['face.svg', 'back.svg'])('%s has its true size and closes every tag', (path) => {
    const svg = textOf(files, path);
    const { width, height } = derived.face;
    expect(svg).toContain(`width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}"`);
    const open: string[] = [];
    for (const [, close, tag = '', self] of svg
      .replace(/<style>.*?<\/style>/s, '')
      .matchAll(/<(\/?)([a-zA-Z]+)[^<>]*?(\/?)>/g)) {
      if (close) expect(open.pop()).toBe(tag);
      else if (!self) open.push(tag);
    }
    expect(open).toEqual([]);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(svg).not.toMatch(/https?:\/\/(?!www\.w3\.org\/2000\/svg)/);
  });

  test('the back is mirrored: a fixing at x stands at width - x', () => {
    const svg = textOf(files, 'back.svg');
    for (const fixing of derived.face.fixings)
      expect(svg).toContain(`cx="${derived.face.width - fixing.at[0]}" cy="${fixing.at[1]}" r="${fixing.drill / 2}"`);
  });

  test('circles of the DXF, rows of holes.csv and holes of the face are the same', () => {
    const dxf = new DxfParser().parseSync(textOf(files, 'face.dxf'));
    const circles = (dxf?.entities ?? []).filter((entity): entity is ICircleEntity => entity.type === 'CIRCLE');
    expect(new Set(circles.map((circle) => circle.layer))).toEqual(new Set(['HOLES']));
    const [head, ...rows] = readCsv(textOf(files, 'holes.csv'));
    expect(head).toEqual(['no', 'x_mm', 'y_mm', 'drill_mm', 'for']);
    expect(rows.map((row) => row.map((field, i) => (i < 4 ? Number(field) : field)))).toEqual(
      derived.face.holes.map((hole) => [
        hole.no,
        expect.closeTo(hole.at[0], 5),
        expect.closeTo(hole.at[1], 5),
        hole.drill,
        hole.id,
      ]),
    );
    // Only DXF has y up.
    expect(circles.map(({ center, radius }) => [center.x, derived.face.height - center.y, radius * 2])).toEqual(
      derived.face.holes.map((hole) => [
        expect.closeTo(hole.at[0], 5),
        expect.closeTo(hole.at[1], 5),
        expect.closeTo(hole.drill, 5),
      ]),
    );
    expect(circles.length).toBeGreaterThan(derived.face.lamps.length);
  });

  test('the DXF is in millimetres, has its layers, an outline of the face and tape as broad as it is', () => {
    const dxf = new DxfParser().parseSync(textOf(files, 'face.dxf'));
    // DXF reference: $INSUNITS 4 is millimetres.
    expect(dxf?.header.$INSUNITS).toBe(4);
    expect(Object.keys(dxf?.tables.layer.layers ?? {})).toEqual(
      expect.arrayContaining(['OUTLINE', 'HOLES', 'TAPE', 'ENGRAVE']),
    );
    const lines = (dxf?.entities ?? []).filter((entity): entity is ILwpolylineEntity => entity.type === 'LWPOLYLINE');
    const [outline, ...others] = lines.filter((line) => line.layer === 'OUTLINE');
    expect(others).toEqual([]);
    expect(outline?.shape).toBe(true);
    expect(new Set(outline?.vertices.map((vertex) => `${vertex.x} ${vertex.y}`))).toEqual(
      new Set([
        `0 0`,
        `${derived.face.width} 0`,
        `0 ${derived.face.height}`,
        `${derived.face.width} ${derived.face.height}`,
      ]),
    );
    expect(lines.filter((line) => line.layer === 'TAPE').map((line) => line.width)).toEqual(
      derived.face.strips.map((strip) => strip.width),
    );
  });
});
