import { describe, expect, it } from 'vitest';
import { bareSheet } from '../../laying/index.ts';
import type { PanelFile } from '../../panel/index.ts';
import { pictureOf, readPicture } from './picture.ts';

const bare = bareSheet();
const laid: PanelFile = {
  ...bare,
  strips: [
    {
      id: 'main',
      path: [
        [0, 58],
        [300, 58],
      ],
    },
    {
      id: 'siding',
      tape: 'oxide',
      width: 6,
      path: [
        [122, 58],
        [162.125, 33],
        [252, 33],
      ],
    },
  ],
};

describe('the picture of a panel', () => {
  it('shows the sheet in its paint and every strip in its tape', () => {
    const picture = readPicture(pictureOf(laid));
    expect(picture).toMatchObject({ width: 300, height: 150 });
    expect(picture?.strips.map(({ d }) => d)).toEqual(['M0 58L300 58', 'M122 58L162.13 33L252 33']);
    expect(picture?.strips.map(({ width }) => width)).toEqual([5, 6]);
    // Two tapes are told apart, and both from the paint.
    expect(new Set([picture?.paint, ...(picture?.strips.map(({ colour }) => colour) ?? [])]).size).toBe(3);
  });
  it('is a bare sheet where nothing is laid', () => {
    expect(readPicture(pictureOf(bare))).toMatchObject({ width: 300, height: 150, strips: [] });
  });
  it('draws what it does not know as sage and graphite', () => {
    const odd: PanelFile = {
      ...laid,
      face: { ...laid.face, colour: 'constructor' },
      strips: [
        {
          id: 'a',
          tape: '"/><script>',
          path: [
            [0, 0],
            [9, 9],
          ],
        },
      ],
    };
    expect(pictureOf(odd)).not.toContain('script');
    expect(pictureOf(odd)).toBe(
      pictureOf({
        ...odd,
        face: { ...odd.face, colour: 'sage' },
        strips: [
          {
            id: 'a',
            tape: 'graphite',
            path: [
              [0, 0],
              [9, 9],
            ],
          },
        ],
      }),
    );
  });
  it('passes over what it did not write', () => {
    expect(readPicture('')).toBeNull();
    expect(readPicture('<svg onload="alert(1)"></svg>')).toBeNull();
    const meddled = pictureOf(laid).replace('stroke="#', 'onclick="x()" stroke="#');
    expect(readPicture(meddled)?.strips).toHaveLength(1);
  });
});
