/** Saving: over the same file, into a picked one, as a download; and what the panel then says of itself. */
import { describe, expect, it } from 'vitest';
import { startingPanel } from '../../../tests/generate/strokes.ts';
import { makeWorld } from '../../../tests/generate/windows.ts';
import { type FileHandle, fileNameOf, type Handles, saveToFile } from './files.ts';
import { startKeeper } from './keeper.ts';

async function bench() {
  const window = makeWorld().open();
  const keeper = await startKeeper(window.surroundings, { database: window.database });
  const opened = await keeper.open(await keeper.create({ panel: startingPanel() }));
  if (!opened.ok) throw new Error(opened.sentence);
  const { kept } = opened;
  const store = new Map<string, FileHandle>();
  const handles: Handles = {
    get: async (panel) => store.get(panel) ?? null,
    put: async (panel, handle) => void store.set(panel, handle),
  };
  const written: string[] = [];
  const handle = (name: string, permission: string, works = true): FileHandle => ({
    name,
    queryPermission: async () => 'prompt',
    requestPermission: async () => permission,
    createWritable: async () => {
      if (!works) throw new DOMException('moved', 'NotFoundError');
      return { write: async (text) => void written.push(`${name}: ${text.length}`), close: async () => {} };
    },
  });
  const downloads: string[] = [];
  const download = (name: string): void => void downloads.push(name);
  kept.document.edit({ name: 'panel.name', changes: [{ kind: 'set', key: 'name', to: 'One' }] });
  return { kept, handles, handle, written, downloads, download, length: () => kept.text().length };
}

describe('saving a panel', () => {
  it('downloads where the browser writes no files', async () => {
    const { kept, handles, downloads, download } = await bench();
    expect(kept.state.changedSinceSave).toBe(true);
    const saved = await saveToFile(kept, 'Quillhaven Harbour: the yard', handles, { pick: null, download });
    expect(saved).toEqual({ how: 'downloaded', file: 'quillhaven-harbour-the-yard.mimic.json' });
    expect(downloads).toEqual(['quillhaven-harbour-the-yard.mimic.json']);
    expect(kept.state).toMatchObject({ changedSinceSave: false, file: 'quillhaven-harbour-the-yard.mimic.json' });
    await kept.close();
  });

  it('picks a file once and writes over it from then on, asking for leave', async () => {
    const { kept, handles, handle, written, download, length } = await bench();
    const picks: string[] = [];
    const pick = async (name: string) => {
      picks.push(name);
      return handle('yard.json', 'granted');
    };
    expect(await saveToFile(kept, 'Yard', handles, { pick, download })).toEqual({ how: 'written', file: 'yard.json' });
    kept.document.undo();
    expect(kept.state.changedSinceSave).toBe(true);
    expect(await saveToFile(kept, 'Yard', handles, { pick, download })).toEqual({ how: 'written', file: 'yard.json' });
    expect(kept.state.changedSinceSave).toBe(false);
    expect(picks).toEqual(['yard.mimic.json']);
    expect(written.at(-1)).toBe(`yard.json: ${length()}`);
    await kept.close();
  });

  it('leaves the panel unsaved where the user thinks better of it', async () => {
    const { kept, handles, downloads, download } = await bench();
    const pick = async () => {
      throw new DOMException('closed', 'AbortError');
    };
    expect(await saveToFile(kept, 'Yard', handles, { pick, download })).toEqual({ how: 'left' });
    expect([kept.state.changedSinceSave, downloads.length]).toEqual([true, 0]);
    await kept.close();
  });

  it('picks anew where leave is refused or the file has moved, and downloads where nothing else works', async () => {
    const { kept, handles, handle, downloads, download } = await bench();
    await handles.put(kept.id, handle('old.json', 'denied'));
    const pick = async () => handle('new.json', 'granted');
    expect(await saveToFile(kept, 'Yard', handles, { pick, download })).toEqual({ how: 'written', file: 'new.json' });
    await handles.put(kept.id, handle('gone.json', 'granted', false));
    const broken = async () => handle('broken.json', 'granted', false);
    expect(await saveToFile(kept, 'Yard', handles, { pick: broken, download })).toEqual({
      how: 'downloaded',
      file: 'new.json',
    });
    expect(downloads).toEqual(['new.json']);
    await kept.close();
  });

  it('names files plainly', () => {
    expect(['Überholung 2', '../..', '', 'x'.repeat(99)].map(fileNameOf)).toEqual([
      'uberholung-2.mimic.json',
      'panel.mimic.json',
      'panel.mimic.json',
      `${'x'.repeat(60)}.mimic.json`,
    ]);
  });
});
