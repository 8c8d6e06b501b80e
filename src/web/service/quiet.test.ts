import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';

const kept = new Map<string, string>();
const storage = {
  getItem: (key: string) => kept.get(key) ?? null,
  setItem: (key: string, value: string) => void kept.set(key, value),
};

/** The module as another window has it. */
async function fresh() {
  vi.resetModules();
  return import('./quiet.ts');
}

describe('quiet', () => {
  beforeEach(() => {
    kept.clear();
    vi.stubGlobal('localStorage', storage);
  });
  afterEach(() => vi.unstubAllGlobals());

  it('is where nobody ever edited', async () => {
    expect((await fresh()).isQuiet(1_000_000)).toBe(true);
  });

  it('begins a minute after the last edit', async () => {
    const { noteEdit, isQuiet, QUIET_MS } = await fresh();
    expect(QUIET_MS).toBe(60_000);
    noteEdit(1_000_000);
    expect([isQuiet(1_000_000), isQuiet(1_059_999), isQuiet(1_060_000)]).toEqual([false, false, true]);
  });

  it('is broken by an edit in another window', async () => {
    const one = await fresh();
    const two = await fresh();
    one.noteEdit(1_000_000);
    expect(two.isQuiet(1_030_000)).toBe(false);
  });

  it('is not held up by nonsense or by a clock that went back', async () => {
    const { isQuiet } = await fresh();
    kept.set('mimicwright.edited', 'soon');
    expect(isQuiet(1_000_000)).toBe(true);
    kept.set('mimicwright.edited', '9000000');
    expect(isQuiet(1_000_000)).toBe(true);
  });

  it('is known within a window where nothing can be stored', async () => {
    vi.stubGlobal('localStorage', undefined);
    const { noteEdit, isQuiet } = await fresh();
    noteEdit(1_000_000);
    expect([isQuiet(1_030_000), isQuiet(1_060_000)]).toEqual([false, true]);
  });
});
