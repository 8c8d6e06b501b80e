import { readFileSync } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';

const here = dirname(fileURLToPath(import.meta.url));
const web = resolve(here, 'src/web');

/** Nothing leaves the origin, and nothing that a file holds can run. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self'",
  "font-src 'self'",
  "img-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/** The page is under src/web, whoever calls the build from wherever. */
const pageUnderWeb = (): Plugin => ({ name: 'page-under-web', config: () => ({ root: web }) });

/** The built page carries its own policy, so that any server of files will do. */
const policy = (): Plugin => ({
  name: 'policy',
  apply: 'build',
  transformIndexHtml: () => [
    { tag: 'meta', attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY }, injectTo: 'head-prepend' },
  ],
});

/** The interface speaks English alone: the component library's words in other languages stay out of the scripts. */
const englishOnly = (): Plugin => ({
  name: 'english-only',
  load: (id) => {
    const file = basename(id);
    if (!/react-(aria|stately)/.test(id) || !/^[a-z]{2}-[A-Z]{2}\.mjs$/.test(file) || file.startsWith('en-'))
      return null;
    // Some dictionaries are default exports, some carry a mangled name as well: keep the names, empty the words.
    const names = [...readFileSync(id, 'utf8').matchAll(/export \{([^}]+)\}/g)]
      .flatMap((match) => (match[1] ?? '').split(','))
      .map((part) => part.split(' as ').at(-1)?.trim() ?? '')
      .filter((name) => name !== '');
    return `const none = {};\nexport { ${names.map((name) => `none as ${name}`).join(', ')} };`;
  },
});

/** The worker reads files and publishes no schema: what makes one stays out of it, and says so if it is ever called. */
const noJsonSchema = (): Plugin => ({
  name: 'no-json-schema',
  load: (id) => {
    if (!/zod\/v4\/core\/(to-json-schema|json-schema-processors)\.js$/.test(id)) return null;
    const names = [...readFileSync(id, 'utf8').matchAll(/^export (?:const|function) (\w+)/gm)].map(([, name]) => name);
    return `const none = () => () => { throw new Error('The worker makes no JSON Schema.'); };
export { ${names.map((name) => `none as ${name}`).join(', ')}, none as process };`;
  },
});

// Whoever builds, and from wherever: under a test runner NODE_ENV would put the libraries' development code into the page.
process.env.NODE_ENV = 'production';

export default defineConfig({
  root: web,
  base: './',
  publicDir: false,
  plugins: [pageUnderWeb(), react(), englishOnly(), policy()],
  worker: {
    format: 'es',
    plugins: () => [englishOnly(), noJsonSchema()],
    rolldownOptions: {
      output: { entryFileNames: 'assets/[name]-[hash].js', chunkFileNames: 'assets/[name]-[hash].js' },
    },
  },
  build: {
    outDir: resolve(here, 'dist/web'),
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
    rolldownOptions: {
      input: [resolve(web, 'index.html'), resolve(web, 'rescue.html')],
      output: {
        entryFileNames: 'assets/[name]-[hash].js',
        chunkFileNames: 'assets/[name]-[hash].js',
        assetFileNames: 'assets/[name]-[hash][extname]',
      },
    },
  },
});
