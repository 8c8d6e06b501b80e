/** Every tool with keys alone: figures typed, and the sheet as a list. */
import { expect, it } from 'vitest';
import { keys, saved } from './hands.ts';
import { lampAt, testTools } from './tool-cases.ts';

testTools(keys, {}, ({ page, hand }) => {
  it('picks a thing in the list, and moves it by arrows and by figures', async () => {
    await hand().take('Pick');
    await hand().press(
      page()
        .locator('.outline')
        .getByRole('button', { name: /^Lamp H1/ }),
    );
    await page().keyboard.press('Alt+Shift+ArrowRight');
    await page().keyboard.press('Alt+ArrowDown');
    expect(await lampAt(page())).toEqual([65, 150.5]);
    await hand().write(page().getByLabel(/^x/).first(), '80');
    expect((await lampAt(page()))?.[0]).toBe(80);
    for (let k = 0; k < 3; k++) await page().keyboard.press('Control+z');
    expect(await lampAt(page())).toEqual([60, 150]);
  });
  it('lays a strip corner by corner, the last by its length and angle', async () => {
    await hand().take('Pick');
    await hand().take('Strip');
    await hand().tap([100, 110]);
    await page().keyboard.type('50<-30');
    await page().keyboard.press('Enter');
    await page().keyboard.press('Enter');
    const path = (await saved(page())).strips[3]?.path ?? [];
    // 50 mm at 30 degrees downwards: 43.30 across and 25 down.
    expect(path.map((spot) => spot.map((value) => Math.round(value * 10) / 10))).toEqual([
      [100, 110],
      [143.3, 135],
    ]);
    await page().keyboard.press('Control+z');
  });
  it('says what it cannot read, and lays nothing', async () => {
    await hand().take('Pick');
    await hand().take('Strip');
    await page().keyboard.type('somewhere');
    await page().keyboard.press('Enter');
    const field = page().getByLabel('Where, typed');
    await expect.poll(() => field.getAttribute('aria-invalid')).toBe('true');
    await page().keyboard.press('Escape');
    expect(await field.inputValue()).toBe('');
  });
});
