import { existsSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { FontFiles } from '../book/index.ts';
import type { Example, Io } from './io.ts';
import { readText } from './read-text.ts';
import { serve } from './server.ts';
import { showInBrowser } from './show-in-browser.ts';
import { writeFiles, writeNew } from './write-whole.ts';

const ENDING = '.mimic.json';

/** Where the things lie that come with the program: beside it when it is built, else in the project. */
function findHome(): { readonly examples: string; readonly web: string; readonly font: (path: string) => string } {
  const here = fileURLToPath(new URL('.', import.meta.url));
  // A bundle may put this file into a folder of its own beside the entry.
  for (const dist of [here, join(here, '..')]) {
    if (existsSync(join(dist, 'fonts')) && existsSync(join(dist, 'examples'))) {
      return {
        examples: join(dist, 'examples'),
        web: join(dist, 'web'),
        font: (path) => join(dist, 'fonts', basename(path)),
      };
    }
  }
  const project = join(here, '..', '..');
  return {
    examples: join(project, 'examples'),
    web: join(project, 'dist', 'web'),
    font: (path) => join(project, 'node_modules', path),
  };
}

async function readExamples(folder: string): Promise<readonly Example[]> {
  const names = (await readdir(folder)).filter((name) => name.endsWith(ENDING)).sort();
  return Promise.all(
    names.map(async (name) => ({
      name: name.slice(0, -ENDING.length),
      text: await readFile(join(folder, name), 'utf8'),
    })),
  );
}

async function readFonts(fontPath: (path: string) => string): Promise<FontFiles> {
  const { FONT_FILES, FONT_ROLES } = await import('../book/index.ts');
  const read = await Promise.all(
    FONT_ROLES.map(async (role) => [role, new Uint8Array(await readFile(fontPath(FONT_FILES[role])))] as const),
  );
  return Object.fromEntries(read) as FontFiles;
}

/** This machine: its files, its browser, and the two streams that are given. */
export function thisMachine(streams: Pick<Io, 'stdout' | 'stderr' | 'stop'>): Io {
  const home = findHome();
  return {
    ...streams,
    readText,
    writeNew,
    writeFiles,
    examples: () => readExamples(home.examples),
    fonts: () => readFonts(home.font),
    serve: (request) => serve(home.web, request),
    showInBrowser,
  };
}
