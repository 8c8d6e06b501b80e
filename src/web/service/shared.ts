/** A file that another application has shared to this one: the service worker has put it aside, and the page takes it up once. */

/** The address that shared files are sent to, and where they lie until they are taken up; the service worker knows the same names. */
const SHARED = 'shared';
const SHARED_CACHE = 'mimicwright-shared';

/** The file that this window was opened with by sharing; null where it was not, or was before. */
export async function sharedFile(): Promise<File | null> {
  if (!new URLSearchParams(location.search).has(SHARED)) return null;
  // A page that is read again does not ask again.
  history.replaceState(null, '', location.pathname);
  try {
    const cache = await caches.open(SHARED_CACHE);
    const url = new URL(SHARED, document.baseURI).href;
    const answer = await cache.match(url);
    if (answer === undefined) return null;
    await cache.delete(url);
    return new File([await answer.blob()], decodeURIComponent(answer.headers.get('X-Name') ?? ''));
  } catch {
    return null;
  }
}
