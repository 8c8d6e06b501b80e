/** The keeping of panels laid open on the page, under `?door=document`: for tests in a real browser. Uses `window`. */
import { barePanel, browserSurroundings, judgeText, type Keeper, startKeeper } from './index.ts';

/** What stands on the page. */
export interface Door {
  readonly keeper: Keeper;
  readonly barePanel: typeof barePanel;
  readonly judgeText: typeof judgeText;
}

declare global {
  interface Window {
    mimicwright?: { document: Promise<Door> };
  }
}

window.mimicwright = {
  document: startKeeper(browserSurroundings()).then((keeper) => ({ keeper, barePanel, judgeText })),
};
