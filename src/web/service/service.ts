/**
 * The service worker: keeps every file of one build and gives them out, with a network or without one.
 *
 * The build puts the list of its files with their SHA-256 before this script. All of them are fetched and checked before the worker is
 * installed, so that a build is kept whole or not at all. What is not in the list, the followed panel above all, is never touched.
 */
export {};

/** A file by its path under the scope, and its SHA-256 in hex. */
type Listed = readonly [path: string, sha256: string];

interface LifeEvent extends Event {
  waitUntil(work: Promise<unknown>): void;
}

interface FetchEvent extends Event {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

interface Scope {
  readonly registration: { readonly scope: string };
  readonly clients: { claim(): Promise<void> };
  skipWaiting(): Promise<void>;
  addEventListener(type: 'install' | 'activate', hear: (event: LifeEvent) => void): void;
  addEventListener(type: 'fetch', hear: (event: FetchEvent) => void): void;
  addEventListener(type: 'message', hear: (event: MessageEvent<unknown>) => void): void;
}

declare const self: Scope;
declare const FILES_OF_BUILD: readonly Listed[];
declare const NAME_OF_BUILD: string;

const PREFIX = 'mimicwright-files-';
const CACHE = `${PREFIX}${NAME_OF_BUILD}`;

/** The build before stays as well: a window that is open goes on with its own files. */
const BUILDS_KEPT = 2;

/** The address that files are shared to, and where one lies until the page takes it up; `shared.ts` knows the same names. */
const SHARED = 'shared';
const SHARED_CACHE = 'mimicwright-shared';

/** No panel file is larger: bytes. */
const LARGEST_BYTES = 20_000_000;

const listed: ReadonlySet<string> = new Set(FILES_OF_BUILD.map(([path]) => path));
const urlOf = (path: string): string => new URL(path, self.registration.scope).href;

async function sha256(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

async function keep(cache: Cache, [path, hash]: Listed): Promise<void> {
  const answer = await fetch(urlOf(path), { cache: 'no-cache' });
  if (!answer.ok) throw new Error(`${path} was answered with ${answer.status}.`);
  const found = await sha256(await answer.clone().arrayBuffer());
  if (found !== hash) throw new Error(`${path} is not of this build: ${found}, not ${hash}.`);
  await cache.put(urlOf(path), answer);
}

async function keepAll(): Promise<void> {
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(FILES_OF_BUILD.map((file) => keep(cache, file)));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

/** Let go of all builds but this one and the one before; a browser names caches in the order in which they were made. */
async function letGo(): Promise<void> {
  const before = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(before.slice(0, Math.max(0, before.length + 1 - BUILDS_KEPT)).map((name) => caches.delete(name)));
}

/** The path of a file of this build, or of an asset of the build before; null for all that is left to the network. */
function pathOf({ method, url }: Request): string | null {
  const { scope } = self.registration;
  const bare = url.split(/[?#]/, 1)[0] ?? '';
  if (method !== 'GET' || !bare.startsWith(scope)) return null;
  const path = bare.slice(scope.length) || 'index.html';
  return listed.has(path) || path.startsWith('assets/') ? path : null;
}

/**
 * Is it a file that the system shares to the application? Another site could send a form to the same address: what comes from a page elsewhere is
 * left to the server, which has nothing there.
 */
function isShared({ method, url, mode, referrer }: Request): boolean {
  const ours = referrer === '' || referrer === 'about:client' || referrer.startsWith(self.registration.scope);
  return method === 'POST' && mode === 'navigate' && ours && url === urlOf(SHARED);
}

/** Put the file aside and show the page, which opens it like any other. Nothing is sent on. */
async function takeShared(request: Request): Promise<Response> {
  const form = await request.formData().catch(() => null);
  const file = form?.get('panel');
  if (file instanceof File && file.size <= LARGEST_BYTES) {
    const cache = await caches.open(SHARED_CACHE);
    await cache.put(urlOf(SHARED), new Response(file, { headers: { 'X-Name': encodeURIComponent(file.name) } }));
  }
  return Response.redirect(urlOf(`?${SHARED}`), 303);
}

async function give(path: string, request: Request): Promise<Response> {
  const cache = await caches.open(CACHE);
  const kept = (await cache.match(urlOf(path), { ignoreVary: true })) ?? (await caches.match(urlOf(path)));
  return kept ?? fetch(request);
}

self.addEventListener('install', (event) => event.waitUntil(keepAll()));
self.addEventListener('activate', (event) => event.waitUntil(letGo().then(() => self.clients.claim())));
self.addEventListener('message', ({ data }) => {
  if (data === 'take over') void self.skipWaiting();
});
self.addEventListener('fetch', (event) => {
  const path = pathOf(event.request);
  if (path !== null) event.respondWith(give(path, event.request));
  else if (isShared(event.request)) event.respondWith(takeShared(event.request));
});
