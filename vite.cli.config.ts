/** The command line and the library: one bundle for Node with everything inside, so that it starts fast. */
import { chmodSync, cpSync, mkdirSync } from 'node:fs';
import { basename, join } from 'node:path';
import { defineConfig, type Plugin } from 'vite';
import { FONT_FILES } from './src/book/fonts.ts';

const root = import.meta.dirname;
const dist = join(root, 'dist');

/** Lay beside the bundle what it reads at run time. */
const companions: Plugin = {
  name: 'companions',
  writeBundle() {
    cpSync(join(root, 'examples'), join(dist, 'examples'), { recursive: true });
    mkdirSync(join(dist, 'fonts'), { recursive: true });
    for (const path of Object.values(FONT_FILES))
      cpSync(join(root, 'node_modules', path), join(dist, 'fonts', basename(path)));
    chmodSync(join(dist, 'cli.js'), 0o755);
  },
};

export default defineConfig({
  publicDir: false,
  plugins: [companions],
  ssr: { noExternal: true },
  build: {
    ssr: true,
    outDir: 'dist',
    emptyOutDir: false,
    target: 'node20',
    minify: true,
    rolldownOptions: {
      input: { cli: 'src/cli/main.ts', index: 'src/index.ts' },
      output: {
        entryFileNames: '[name].js',
        chunkFileNames: 'chunks/[name]-[hash].js',
        banner: (chunk) => (chunk.name === 'cli' ? '#!/usr/bin/env node' : ''),
      },
    },
  },
});
