/** Every tool with a mouse. */
import { expect, it } from 'vitest';
import { mouse } from './hands.ts';
import { lampAt, testTools } from './tool-cases.ts';

testTools(mouse, {}, ({ page, hand }) => {
  it('picks a thing and moves it', async () => {
    await hand().take('Pick');
    await hand().drag([60, 150], [80, 160]);
    expect(await lampAt(page())).toEqual([80, 160]);
    await page().keyboard.press('Control+z');
  });
  it('picks what an oblong holds', async () => {
    await hand().take('Pick');
    await hand().drag([10, 20], [390, 170]);
    await page().locator('.lay-side').getByText('4 things picked').waitFor();
    await page().keyboard.press('Escape');
  });
});
