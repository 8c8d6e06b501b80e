/** Every tool with a finger. */
import { expect, it } from 'vitest';
import { touch } from './hands.ts';
import { lampAt, testTools } from './tool-cases.ts';

testTools(touch, { hasTouch: true, viewport: { width: 1180, height: 820 } }, ({ page, hand }) => {
  it('picks a thing and moves it', async () => {
    await hand().take('Pick');
    await hand().drag([60, 150], [80, 160]);
    expect(await lampAt(page())).toEqual([80, 160]);
    await page().keyboard.press('Control+z');
  });
});
