/** The window's entry: starts the worker and the page side by side, so that the sheet is there as soon as it is derived. */
import './tokens.css';
import './base.css';
import './face.css';
import './run.css';
import { createRoot } from 'react-dom/client';
import demo from '../../examples/quillhaven-harbour.mimic.json?raw';
import { App } from './app.tsx';
import type { FileHandle } from './document/index.ts';
import { openFile, openLast, openServed } from './incoming.ts';
import { areDown, keptLights, setLights, watchDevice } from './lights.ts';
import { hearLaunched } from './service/launched.ts';
import { keepOffline } from './service/register.ts';
import { sharedFile } from './service/shared.ts';
import { startCore } from './start-core.ts';
import { makeStore } from './store.ts';
import { StoreContext } from './use-app.ts';

const DEMO_FILE = 'quillhaven-harbour.mimic.json';

const lights = keptLights();
const { core } = startCore((fault) => store.getState().refuse({ file: store.getState().file, problems: [], fault }));
const store = makeStore(core, { lights, down: areDown(lights) });

setLights(lights);
watchDevice(() => store.getState().deviceChanged());

const openDemo = (): Promise<void> => store.getState().open(DEMO_FILE, demo, 'demo');
const begun = openServed(store).then(async (served) => {
  if (!served && !(await openLast(store))) await openDemo();
});
/** What the window was opened with comes after what it begins with, and stays. */
const given = (file: File, handle?: FileHandle): void => {
  const open = (): Promise<boolean> => openFile(store, file, handle);
  void begun.then(open, open);
};

keepOffline();
hearLaunched(given);
void sharedFile().then((file) => (file === null ? undefined : given(file)));

// Fetched when the first thing has the focus: no picture waits for it.
addEventListener('focusin', () => void import('./keep-focus.ts').then(({ keepFocus }) => keepFocus()), { once: true });

// For tests and for whoever looks into the works: the keeping of panels, by hand.
if (new URLSearchParams(location.search).get('door') === 'document') void import('./document/door.ts');

const root = document.getElementById('root');
if (root === null) throw new Error('The page has no element #root.');
createRoot(root).render(
  <StoreContext value={store}>
    <App core={core} openDemo={openDemo} />
  </StoreContext>,
);
