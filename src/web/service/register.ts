/** The page's side of being there without a network: asks for the service worker, and says when a new build may take over. */
import { isQuiet } from './quiet.ts';

/** The first picture and its findings have the network and the processor to themselves for so long: ms. */
const AFTER_MS = 1_500;

/** A new build is offered the next quiet moment this often: ms. */
const OFFER_MS = 30_000;

/** Keep the application for visits without a network. Does nothing where the browser offers no way. */
export function keepOffline(): void {
  if (!('serviceWorker' in navigator)) return;
  setTimeout(() => {
    navigator.serviceWorker
      .register(new URL('service.js', document.baseURI), { updateViaCache: 'none' })
      .then((registration) => {
        const offer = (): void => {
          if (isQuiet()) registration.waiting?.postMessage('take over');
        };
        offer();
        setInterval(offer, OFFER_MS);
      })
      // Private windows and full disks: the application works as long as its server is there.
      .catch(() => {});
  }, AFTER_MS);
}
