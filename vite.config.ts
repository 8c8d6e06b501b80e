import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';

const here = dirname(fileURLToPath(import.meta.url));
const web = resolve(here, 'src/web');

/** The service worker, at the root of what it serves. */
const SERVICE = 'service.js';

/** Nothing leaves the origin, and nothing that a file holds can run. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self'",
  "font-src 'self'",
  "img-src 'self'",
  "connect-src 'self'",
  "manifest-src 'self'",
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

/** What a browser must know to install the application. */
const MANIFEST = {
  name: 'Mimicwright',
  short_name: 'Mimicwright',
  description: 'Designs, simulates, proves and documents mimic panels for model railways.',
  lang: 'en-GB',
  id: './',
  start_url: './',
  scope: './',
  display: 'standalone',
  background_color: '#f6f7f4',
  theme_color: '#f6f7f4',
  icons: [192, 512].map((size) => ({
    src: `icon-${size}.png`,
    sizes: `${size}x${size}`,
    type: 'image/png',
    purpose: 'any maskable',
  })),
  shortcuts: [
    { name: 'Lay', url: './?stage=lay' },
    { name: 'Run', url: './?stage=run' },
  ],
  // A file has a window of its own: what is under a hand in another stays there.
  launch_handler: { client_mode: ['navigate-new', 'auto'] },
  share_target: {
    action: './shared',
    method: 'POST',
    enctype: 'multipart/form-data',
    params: { files: [{ name: 'panel', accept: ['application/json', '.json'] }] },
  },
  file_handlers: [{ action: './', accept: { 'application/json': ['.mimic.json'] } }],
};

/** The manifest, its icons, and the service worker with the list of all files of this build. */
const offline = (): Plugin => ({
  name: 'offline',
  apply: 'build',
  transformIndexHtml: {
    order: 'post',
    handler: (_html, { filename }) =>
      basename(filename) === 'index.html'
        ? [{ tag: 'link', attrs: { rel: 'manifest', href: './manifest.webmanifest' }, injectTo: 'head' }]
        : [],
  },
  generateBundle() {
    this.emitFile({ type: 'asset', fileName: 'manifest.webmanifest', source: JSON.stringify(MANIFEST) });
    for (const { src } of MANIFEST.icons)
      this.emitFile({ type: 'asset', fileName: src, source: readFileSync(join(web, 'service', src)) });
  },
  writeBundle: ({ dir }) => {
    if (dir === undefined) throw new Error('The build has no folder.');
    const sha256 = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('hex');
    const files = readdirSync(dir, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && entry.name !== SERVICE)
      .map((entry) => join(entry.parentPath, entry.name))
      .map((path) => [relative(dir, path).split(sep).join('/'), sha256(readFileSync(path))] as const)
      .sort(([a], [b]) => (a < b ? -1 : 1));
    const list = JSON.stringify(files);
    const script = readFileSync(join(dir, SERVICE), 'utf8');
    const name = sha256(list + script).slice(0, 16);
    writeFileSync(join(dir, SERVICE), `const FILES_OF_BUILD=${list},NAME_OF_BUILD="${name}";\n${script}`);
  },
});

// Whoever builds, and from wherever: under a test runner NODE_ENV would put the libraries' development code into the page.
process.env.NODE_ENV = 'production';

export default defineConfig({
  root: web,
  base: './',
  publicDir: false,
  plugins: [pageUnderWeb(), react(), englishOnly(), policy(), offline()],
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
      input: [resolve(web, 'index.html'), resolve(web, 'rescue.html'), resolve(web, 'service/service.ts')],
      output: {
        entryFileNames: ({ name }) => (name === 'service' ? SERVICE : 'assets/[name]-[hash].js'),
        chunkFileNames: 'assets/[name]-[hash].js',
        assetFileNames: 'assets/[name]-[hash][extname]',
      },
    },
  },
});
