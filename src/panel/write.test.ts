import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readPanel } from './read.ts';
import type { PanelFile } from './schema.ts';
import { writePanel } from './write.ts';

const bare: PanelFile = { format: 'mimic-panel', version: 1, strips: [] };

describe('writePanel', () => {
  it('[WR1] puts keys in the order of the schema, then unknown ones by name; tables by name, figures counted', () => {
    const panel = {
      zeta: 1,
      lamps: [{ tint: 'x', shows: { P10: 'normal', P2: 'reverse' }, at: [1, 2], alpha: { b: 1, a: 2 }, id: 'H1' }],
      strips: [],
      alpha: [1, 2],
      version: 1,
      format: 'mimic-panel',
    } as const;
    expect(writePanel(panel as unknown as PanelFile)).toBe(`{
  "format": "mimic-panel",
  "version": 1,
  "strips": [],
  "lamps": [
    { "id": "H1", "at": [1, 2], "shows": {"P2": "reverse", "P10": "normal"}, "alpha": {"a": 2, "b": 1}, "tint": "x" }
  ],
  "alpha": [1, 2],
  "zeta": 1
}
`);
  });

  it('[WR2] gives each record a line, in what is built and of the track too', () => {
    const text = writePanel({
      ...bare,
      built: { pins: { 'A.10': 'D2.a', 'A.9': 'D1.a' }, wires: {} },
      track: { feeds: [{ at: [1, 2] }, { at: [3, 4] }] },
    });
    expect(text).toBe(`{
  "format": "mimic-panel",
  "version": 1,
  "strips": [],
  "track": {
    "feeds": [
      { "at": [1, 2] },
      { "at": [3, 4] }
    ]
  },
  "built": {
    "wires": {},
    "pins": {
      "A.9": "D1.a",
      "A.10": "D2.a"
    }
  }
}
`);
  });

  it('[WR2] writes numbers in their shortest form and any text so that it reads back', () => {
    const strips = [{ id: 'a', name: '"\\\n\u2028\ud800é', path: [[0.1 + 0.2, -0] as [number, number]], width: 1e-7 }];
    const text = writePanel({ ...bare, strips });
    expect(text).toContain('[[0.30000000000000004, 0]]');
    expect(text).toContain('"width": 1e-7');
    const read = readPanel(text);
    expect(read.ok && read.panel.strips[0]?.name).toBe(strips[0]?.name);
  });

  it('[WR3] leaves the examples as they are', () => {
    for (const name of ['bramble-siding', 'quillhaven-harbour']) {
      const text = readFileSync(new URL(`../../examples/${name}.mimic.json`, import.meta.url), 'utf8');
      const read = readPanel(text);
      expect(read).toMatchObject({ ok: true, hints: [] });
      expect(read.ok && writePanel(read.panel)).toBe(text);
    }
  });

  it('[WR4] throws on what no file can hold', () => {
    expect(() => writePanel({ ...bare, strips: [{ id: 'a', path: [], width: Number.NaN }] })).toThrow('the number NaN');
    expect(() => writePanel({ ...bare, extra: () => 0 })).toThrow('no file can hold a function');
    expect(writePanel({ ...bare, name: undefined })).toBe(writePanel(bare));
  });
});
