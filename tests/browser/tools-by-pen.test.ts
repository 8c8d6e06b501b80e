/** Every tool with a pen; palms and fingers beside it. */
import { expect, it } from 'vitest';
import { fingers, pen } from './hands.ts';
import { lampAt, testTools } from './tool-cases.ts';

testTools(pen, { hasTouch: true, viewport: { width: 1180, height: 820 } }, ({ page, hand }) => {
  it('picks a thing and moves it', async () => {
    await hand().take('Pick');
    await hand().drag([60, 150], [80, 160]);
    expect(await lampAt(page())).toEqual([80, 160]);
    await page().keyboard.press('Control+z');
  });
  it('passes over a palm, and a finger beside it moves the sheet and lays nothing', async () => {
    await hand().take('Strip');
    const client = await page().context().newCDPSession(page());
    const where = async () => page().locator('.lay-sheet').boundingBox();
    const before = await where();
    if (before === null) throw new Error('the sheet is not drawn');
    const strips = () =>
      page()
        .locator('.lay-foot')
        .getByText(/strips/)
        .textContent();
    const was = await strips();
    const [x, y] = [before.x + before.width / 2, before.y + before.height * 0.85];
    await fingers(client, [[{ at: [x, y], radius: 45 }], [{ at: [x + 40, y - 40], radius: 45 }]]);
    expect(await where()).toEqual(before);
    await fingers(client, [[{ at: [x, y] }], [{ at: [x + 20, y - 10] }], [{ at: [x + 40, y - 20] }]]);
    const moved = async (): Promise<readonly number[]> => {
      const after = await where();
      return [Math.round((after?.x ?? 0) - before.x), Math.round((after?.y ?? 0) - before.y)];
    };
    await expect.poll(moved).toEqual([40, -20]);
    expect(await strips()).toBe(was);
    expect(await page().locator('.held path.ghost').count()).toBe(0);
  });
});
