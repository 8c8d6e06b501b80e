/** What the window has to know of kept panels and files before anything that reads them is fetched. */

/** The database of kept panels. The rescue page knows the same name. */
export const DATABASE_NAME = 'mimicwright';

/** No panel file is larger, bytes; a film dropped by mistake is not worth reading. The service worker knows the same figure. */
export const LARGEST_BYTES = 20_000_000;
