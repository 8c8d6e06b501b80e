/**
 * The hand: hands what it does to the tool that it holds, and does what that tool answers. A tool that is laid down is told so, and the next
 * one begins where tools begin.
 */
import {
  handlesOf,
  laidBy,
  type Picked,
  type SnapContext,
  snap,
  snapContext,
  snapMove,
} from '../../../laying/index.ts';
import type { PanelFile } from '../../../panel/index.ts';
import type { Millimetre, Spot } from '../../../units/index.ts';
import type { EditedPanel } from '../../document/document.ts';
import { layWords } from '../../words/lay.ts';
import { reachOf } from '../camera.ts';
import type { LayStore } from '../lay-store.ts';
import { type Formation, formationTool } from './formation.ts';
import { pickTool } from './pick.ts';
import {
  buttonTool,
  fixingTool,
  keepOutTool,
  lampTool,
  leverTool,
  measureTool,
  placeTool,
  plateTool,
  platformTool,
} from './put.ts';
import { stripTool } from './strip.ts';
import type { Answer, Deed, Hand, Tool, ToolContext, ToolEvent, ToolName } from './types.ts';
import { pickable, thingsUnder, thingsWithin } from './under.ts';

/** How near the hand must be to be drawn, to hit, and to count as still: px. */
const SNAP_PX = 10;
const HIT_PX = 9;
const STILL_PX = 4;

/** A tool with the state that it is in. */
interface Held {
  readonly name: ToolName;
  on(event: ToolEvent, context: ToolContext): readonly Deed[];
}

function held<S>(name: ToolName, tool: Tool<S>): Held {
  let state = tool.start;
  return {
    name,
    on(event, context) {
      const answer: Answer<S> = tool.on(state, event, context);
      state = answer.state;
      return answer.deeds;
    },
  };
}

const TOOLS: Readonly<Record<ToolName, () => Held>> = {
  pick: () => held('pick', pickTool),
  strip: () => held('strip', stripTool),
  platform: () => held('platform', platformTool),
  place: () => held('place', placeTool),
  plate: () => held('plate', plateTool),
  lever: () => held('lever', leverTool),
  button: () => held('button', buttonTool),
  lamp: () => held('lamp', lampTool),
  fixing: () => held('fixing', fixingTool),
  'keep-out': () => held('keep-out', keepOutTool),
  measure: () => held('measure', measureTool),
};

/** A hand over one document; what it holds and where the eye stands it asks of the store. */
export function makeHand(document: EditedPanel, storeOf: () => LayStore): Hand {
  let tool = TOOLS.pick();
  let laying: { readonly formation: Formation; readonly roads: number } = { formation: 'strip', roads: 0 };
  let near: { readonly panel: PanelFile; readonly key: string; readonly context: SnapContext } | null = null;
  const nearBy = (panel: PanelFile, without: readonly Picked[]): SnapContext => {
    const key = without.map(({ list, id, part }) => `${list} ${id} ${part ?? ''}`).join();
    // Made once for a drag: the panel that it is drawn from stays the same.
    if (near?.panel !== panel || near.key !== key) near = { panel, key, context: snapContext(panel, without) };
    return near.context;
  };
  const contextNow = (): ToolContext => {
    const { picked, camera, snapping, shown, turn } = storeOf().getState();
    const mm = (px: number): Millimetre => (camera === null ? px : reachOf(camera, px));
    const panel = document.atStart;
    const options = (free: boolean) => ({ reach: mm(SNAP_PX), free: free || !snapping, turn });
    return {
      panel,
      picked,
      still: mm(STILL_PX),
      under: (spot) => thingsUnder(document.panel, shown?.view ?? null, picked, spot, mm(HIT_PX)),
      within: (a, b) => thingsWithin(document.panel, shown?.view ?? null, a, b),
      snap: (spot, { without, free, ...from }) => snap(nearBy(panel, without), spot, { ...options(free), ...from }),
      snapMove: (what, by: Spot, free) => snapMove(nearBy(panel, what), handlesOf(panel, what), by, options(free)),
    };
  };
  const act = (deed: Deed): void => {
    const store = storeOf();
    switch (deed.do) {
      case 'pick':
        store.setState({ picked: deed.picked });
        return;
      case 'begin':
        // Another window may hold the panel, or take it in the middle of a drag: what was dragged till then is accepted.
        if (document.locked === null) document.begin(deed.name, deed.subject);
        return;
      case 'redraw':
        if (deed.edit !== null && document.dragging) document.redraw(deed.edit);
        return;
      case 'end':
        document.end();
        return;
      case 'abandon':
        document.abandon();
        return;
      case 'edit':
        if (!store.getState().mayEdit()) return;
        document.edit(deed.edit, { subject: deed.subject });
        if (deed.pick === 'laid') {
          const laid = laidBy(deed.edit).flatMap(pickable);
          // With tape come records of its ends: the tape is what the hand laid.
          const tape = laid.filter(({ list }) => list === 'strips');
          store.setState({ picked: tape.length > 0 ? tape : laid });
        }
        return;
      case 'would':
        store.setState({ would: deed.edit });
        return;
      case 'refuse':
        store.getState().tell(layWords.whyNot[deed.why]);
        return;
      case 'ghost':
        store.setState({ ghost: deed.path, drawn: deed.drawn });
        return;
    }
  };
  return {
    on(event) {
      const { tool: wanted, formation, roads } = storeOf().getState();
      const other = wanted === 'strip' && (laying.formation !== formation || laying.roads !== roads);
      if (tool.name !== wanted || other) {
        for (const deed of tool.on({ kind: 'cancel' }, contextNow())) act(deed);
        laying = { formation, roads };
        tool =
          wanted === 'strip' && formation !== 'strip'
            ? held('strip', formationTool(formation, roads))
            : TOOLS[wanted]();
      }
      for (const deed of tool.on(event, contextNow())) act(deed);
    },
  };
}
